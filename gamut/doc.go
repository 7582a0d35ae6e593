// Package gamut answers what a palette can mix: the closest mix to a colour,
// whether a colour is within reach, and a recipe in whole parts.
//
// Paints are referred to by their index in the Mixer; a palette is a Set of
// such indices. The film model is package film, the colour difference is
// CIEDE2000 (package colour).
package gamut
