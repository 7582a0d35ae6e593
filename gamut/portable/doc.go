// Package portable holds what package math and the linear algebra libraries
// leave to the processor: functions whose last bit differs where there is an
// instruction or an assembly of its own for them, or where the compiler may fuse a
// product into the sum it stands in. Here every product in a sum is rounded by an
// explicit conversion, or is a math.FMA, which is exact by definition, so that the
// same arguments give the same bits everywhere. The square root, rounding, Mod,
// Remainder and Pow10 of package math do so already.
//
// The functions are Taylor series after a reduction of the argument; the tests
// hold each of them to its bound, in units in the last place, against the same
// function in 240 bits.
package portable
