// Package few knows which sets of paints reach a colour where a mix holds one, two
// or three of them: there are few enough sets to look at each, once for all
// palettes (table.go).
//
// What two or three paints mix is a curve or a surface in CIELAB, laid out once as
// a mesh (mesh.go). Of each mesh the pieces are sought that could lie near the
// colour (pieces.go, vicinity.go); these are divided, and descended from as package
// search does, until it is settled how near they come (closein.go). Whether one paint
// more brings a colour near is asked of the sets that may alone (prospects.go). Paints
// redrawn have a table of their own.
package few
