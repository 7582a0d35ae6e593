package gamut

import (
	"math"

	"fewtubes/gamut/colour"
)

// Among far colours CIEDE2000 has minima of its own beside the grey axis, on
// the far side from the target, which no straight way downhill leads to. They
// matter only where a target is hopelessly out of reach, but there the nearest
// mix should be the nearest all the same.
const farOff = 64 // squared: where such minima begin to matter

var (
	detourChroma = [...]float64{2, 4, 6, 9, 14}
	detourTurns  = [...]float64{50, 75, 100, 120, 140, 165, edgeTurn}
)

// edgeTurn stands just before the jump at the opposite hue.
const edgeTurn = 179.5

// detour goes by way of near-greys that are near to a far target: the nearest
// in either direction of hue, and some beside the jump at the opposite hue.
func (w *workspace) detour() {
	if w.best.squared < farOff {
		return
	}
	target := w.aim.target
	for _, side := range [...]float64{-1, 1} {
		w.by(w.wayside(side, detourTurns[:], detourChroma[:]), target)
	}
	for _, c := range [...]float64{2, 5, 12} {
		left, right := w.wayside(-1, detourTurns[6:], []float64{c}), w.wayside(1, detourTurns[6:], []float64{c})
		if w.squaredAt(right) < w.squaredAt(left) {
			left = right
		}
		w.by(left, target)
	}
}

// by settles near one colour first and then goes on to the target.
func (w *workspace) by(way, target colour.Lab) {
	w.begun(w.seedNear(way))
	w.head(way)
	w.settle()
	w.head(target)
	w.settle()
	w.keepBetter(0)
}

// wayside is the near-grey of the target's lightness nearest to it on one side.
func (w *workspace) wayside(side float64, turns, chromas []float64) (way colour.Lab) {
	least := math.Inf(1)
	target := w.aim.target.LCh()
	for _, turn := range turns {
		for _, c := range chromas {
			grey := colour.LCh{L: target.L, C: c, H: target.H + float64(side*turn)}.Lab()
			if d := w.squaredAt(grey); d < least {
				way, least = grey, d
			}
		}
	}
	return way
}

func (w *workspace) squaredAt(c colour.Lab) float64 {
	w.aimNext.at(c)
	return w.aimNext.squared
}

// seedNear is the seed nearest to a colour.
func (w *workspace) seedNear(c colour.Lab) seed {
	best, least := w.seeds[0], math.Inf(1)
	for _, s := range w.seeds {
		w.begun(s)
		if d := distance76(w.here.lab, c); d < least {
			best, least = s, d
		}
	}
	return best
}

// head sets a new target for the present mix.
func (w *workspace) head(target colour.Lab) {
	*w.aim = newResidual(target)
	*w.aimNext = *w.aim
	w.settled = w.settled[:0] // they were for another
	w.aim.at(w.here.lab)
}
