package search

import "math"

// CIEDE2000 jumps where the hue of a mix is exactly opposite to that of the
// target, because the mean hue changes sides (Sharma, Wu, Dalal 2005, section
// on discontinuities): that is the edge.

// within reports whether a mix is nearer to the edge than a turn of hue in radians.
func (f *Residual) within(turn float64) bool { return math.Abs(f.cross) < -turn*f.along }

// crosses reports whether the way from f to next leads over the edge.
func (f *Residual) crosses(next *Residual) bool { return f.along < 0 && f.cross*next.cross < 0 }

// fallsOff reports whether the way from f to next crosses the edge upwards.
func (f *Residual) fallsOff(next *Residual) bool { return next.squared > f.squared && f.crosses(next) }
