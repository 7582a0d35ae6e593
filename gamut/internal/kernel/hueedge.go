package kernel

import "math"

// CIEDE2000 jumps where the hue of a mix is exactly opposite to that of the
// target, because the mean hue changes sides (Sharma, Wu, Dalal 2005, section
// on discontinuities): that is the edge.

// Within reports whether a mix is nearer to the edge than a turn of hue in radians.
func (f *Residual) Within(turn float64) bool { return math.Abs(f.Cross) < -turn*f.Along }

// Crosses reports whether the way from f to next leads over the edge.
func (f *Residual) Crosses(next *Residual) bool { return f.Along < 0 && f.Cross*next.Cross < 0 }

// FallsOff reports whether the way from f to next crosses the edge upwards.
func (f *Residual) FallsOff(next *Residual) bool { return next.Squared > f.Squared && f.Crosses(next) }
