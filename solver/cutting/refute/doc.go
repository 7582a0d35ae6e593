// Package refute finds proofs by cutting planes that nothing keeps a formula.
//
// The formulas are those of a cover: the last constraint is minus a sum of weights
// >= 0 that is at most so much, the others ask for one of some variables (a need), or
// for at most so much of a sum of weights >= 0 (a limit). A linear programme over
// fractions gives multipliers of the others whose sum no variable exceeds its weight
// in; where its bound, rounded up, is beyond the last constraint, the sum of all is
// the proof, one line. Where it is not, a variable is tried both ways, and each
// way that is closed becomes a clause of the trials it rests on (branch and bound; two
// clauses resolved). All numbers are rationals, so that proofs are the same
// everywhere.
package refute
