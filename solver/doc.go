// Package solver chooses tubes: the smallest palettes that reach every target
// within its tolerance under the painter's limits, with the proof that fewer
// will not do, and the best that can be had when the limits do not allow it.
//
// Adding a tube never hurts, so a palette misses a target exactly when it lies
// inside some maximal failing set; the complement of that set is a cut: the
// target needs at least one tube of it. The solver finds cuts as it needs them
// and asks a SAT solver for the smallest palette that hits them all (an
// implicit hitting set).
package solver
