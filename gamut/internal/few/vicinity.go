package few

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/kernel"
	"fewtubes/gamut/portable"
)

const (
	vicinityRays = 48
	farthestRay  = 300  // CIELAB: no colour is farther off
	vicinityRoom = 1.05 // what the rays may fall short by
)

// vicinity is a box of CIELAB around what lies within a distance, in CIEDE2000,
// of a colour. Lightness counts apart from chroma and hue there, so its range is
// exact; that of a* and b* is felt out by rays, with room to spare.
func vicinity(target colour.Lab, within float64) labBox {
	f := kernel.NewResidual(target)
	squared := within * within
	chromatic := func(a, b float64) bool {
		f.At(colour.Lab{L: target.L, A: a, B: b})
		return float64(f.R[1]*f.R[1])+float64(f.R[2]*f.R[2]) <= squared
	}
	box := emptyBox()
	for k := range vicinityRays {
		sin, cos := portable.Sincos(2 * math.Pi * float64(k) / vicinityRays)
		near := farthest(func(d float64) bool { return chromatic(target.A+float64(d*cos), target.B+float64(d*sin)) }) * vicinityRoom
		box.put(lab32{float32(target.L), float32(target.A + float64(near*cos)), float32(target.B + float64(near*sin))})
	}
	for _, side := range [...]float64{-1, 1} {
		near := farthest(func(d float64) bool {
			f.Lightness(target.L + float64(side*d))
			return f.R[0]*f.R[0] <= squared
		})
		box.low[0], box.high[0] = min(box.low[0], float32(target.L-near)), max(box.high[0], float32(target.L+near))
	}
	return box
}

// farthest is the length at which what holds at first ends for good, or a little
// more.
func farthest(holds func(d float64) bool) float64 {
	const stride = 1.25
	last, beyond := 0.0, 0.01
	for d := 0.01; d < farthestRay; d *= stride {
		if holds(d) {
			last, beyond = d, d*stride
		}
	}
	for beyond-last > 0.01*beyond {
		if mid := (last + beyond) / 2; holds(mid) {
			last = mid
		} else {
			beyond = mid
		}
	}
	return beyond
}
