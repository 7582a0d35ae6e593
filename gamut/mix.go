package gamut

import "fewtubes/gamut/colour"

// Mix is a mixture and the colour it dries to.
type Mix struct {
	Paints []int     // indices into the Mixer's paints, ascending
	Shares []float64 // volume shares of paint from the tube, > 0, sum 1
	Lab    colour.Lab
	DE     float64 // CIEDE2000 to the target it was sought for
}

// Recipe is a mixture in small whole parts by volume.
type Recipe struct {
	Paints []int // ascending
	Parts  []int // >= 1, without a common factor
	Lab    colour.Lab
	DE     float64
}
