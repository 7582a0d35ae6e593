// Package repaint paints photographs with a palette: every pixel becomes the nearest
// mix, and what stays out of reach is measured and shown.
//
// A photograph has far fewer codes than pixels. Each code is looked at once: its
// colour, its nearest mix (gamut/grid) and how far that is off; pixels then ask
// by their code.
package repaint
