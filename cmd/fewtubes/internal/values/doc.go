// Package values works with lights and darks: curves that move them, greys of
// photographs, and how the values of a painting differ from its reference.
//
// A value is CIE L*, 0 black to 100 white; a painter's value of 0 to 10 is a
// tenth of it.
package values
