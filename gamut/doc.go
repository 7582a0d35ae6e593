// Package gamut answers what a palette can mix: the closest mix to a colour,
// whether a colour is within reach, recipes in whole parts, how to correct a
// pile, and the outline and volume of all it can mix.
//
// Paints are referred to by their index in the Mixer; a palette is a Set of
// such indices. The film model is package film, the colour difference is
// CIEDE2000 (package colour).
//
// The closest mix is a search (internal/search); MIXING.md says how, and how
// often the nearest is missed. Where a mix holds few paints, all sets of them are
// looked at once for all palettes (internal/few).
package gamut
