// Package cutting holds statements about which of some variables are 1 and which
// are 0, and verifies proofs by cutting planes that no choice keeps all of them. It
// knows nothing of how a proof was found; package refute finds some.
//
// A formula is written as OPB, the form of the pseudo-Boolean competitions (Roussel
// and Manquinho, Input/Output Format and Solver Requirements for the Competitions of
// Pseudo-Boolean Solvers), without an objective, so that any solver of that form can
// decide it. A proof is written in version 1.2 of the VeriPB format; of that
// format these lines are known:
//
//	pseudo-Boolean proof version 1.2
//	f N             the N constraints of the formula, numbered from 1
//	p TERM...       a new constraint, numbered on, in reverse Polish notation
//	c N             constraint N cannot be kept
//
// A TERM is the number of a constraint, a literal (x7: at least 0; ~x7: 1 - x7 is at
// least 0), + for the sum of two, or after a whole number * for a multiple or d for
// division with rounding up, or s for saturation (Cook, Coullard, Turan, On the
// Complexity of Cutting-Plane Proofs, Discrete Appl. Math. 18, 1987).
package cutting
