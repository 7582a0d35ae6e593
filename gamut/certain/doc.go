// Package certain proves that a colour is out of reach: no mixture whatever of
// some paints, of any number of them in any amounts, comes within a CIEDE2000
// tolerance of it.
//
// # Method
//
// A mix is a vector of amounts c >= 0 of which only ratios matter. Per band,
// K = Kc, S = Sc, q = K/S, and the reflectance R(q) seen through the surface is
// convex and falls in q. A branch and bound covers all mixes by cells: limits on
// q and on S/norm in every band, all of them linear conditions without a
// constant, so that a cell is a polyhedral cone. In a cell every R has a chord
// over it and tangents under it, linear in q; q - q0 = (K - q0 S)/S is put
// between linear bounds with the limits of S/norm (McCormick 1976), hinged
// where q0 is a limit of q and the sign of K - q0 S is known. The colours within
// the tolerance lie in a convex body with some forty faces (Region). A face
// with every R replaced by a bound is a cut, linear in c. The bound errs by
// the square of the size of the cell, not by its size, and this is what keeps
// the cells few. Measured on grown failing sets of 30 to 56 tubes with the nearest
// mix 0.1 to 1.3 beyond the tolerance: all 20 certified, 7 to 193 cells and 0.2
// to 4.6 s of one core each.
//
// Limits are tightened by linear programs over the cone and the cuts; cuts are
// made where a vertex asks for one. A cell that stays open is split. Cells are
// worked on side by side, four at a time on any number of processors, so that
// the certificate is the same for all.
//
// # Why a simplex method of our own
//
// The programs are small (a basis of some three to twenty paints), come by the
// thousand, share one set of cuts, and need rows made on demand at the vertex
// at hand. The dual simplex method here starts from the best single paint,
// feasible for every program, and each of its bases proves a bound. Measured: 33
// microseconds a program at 30 paints; gonum's solver, handed the duals with one
// equation per paint, takes 3.7 milliseconds and gives up on a fifth of them
// (BenchmarkSimplex, BenchmarkLibrarySimplex).
//
// # Sureness
//
// Nothing is believed of the linear programs but their multipliers: the bound
// these prove is worked out again, rounded outward. The steps are kept as a
// certificate, which package check verifies on its own; numbers in it are rounded
// outward to a few digits, and steps that nothing leans on are left out. Package tolerance,
// which bounds CIEDE2000 by interval arithmetic, is trusted by both.
package certain
