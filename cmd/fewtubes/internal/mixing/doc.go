// Package mixing is the mixing table: recipes for a colour, what a pile looks
// like, and what to add to one.
//
// It asks package gamut and names tubes by their id. Volumes are of paint from
// the tube; only their ratios matter.
package mixing
