// Package tolerance proves, by interval arithmetic, that all colours within a
// CIEDE2000 tolerance of a target lie within a convex body of tristimulus space.
//
// Every operation is rounded outward. The exponential, the arc tangent, the sine
// and the cosine of package portable are trusted to 1e-13, a hundred times what its
// tests allow them.
package tolerance
