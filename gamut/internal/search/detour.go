package search

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/kernel"
)

// Among far colours CIEDE2000 has minima of its own beside the grey axis, on
// the far side from the target, which no straight way downhill leads to. They
// matter only where a target is hopelessly out of reach, but there the nearest
// mix should be the nearest all the same: so searches go by way of grey.

// detourTurns are ranges of hues, by cosine and sine of their turn from that of the
// target: from 50 to 80 degrees, and from 90 to 178. In each range, and on either
// side, one near-grey is chosen.
var detourTurns = [...][][2]float64{
	{{0.643, 0.766}, {0.423, 0.906}, {0.174, 0.985}},
	{{0, 1}, {-0.259, 0.966}, {-0.5, 0.866}, {-0.707, 0.707}, {-0.866, 0.5}, {-0.966, 0.259}, {-0.9994, 0.0349}},
}

var detourChroma = [...]float64{0.5, 2, 4, 6, 9, 13}

const (
	grey        = 3   // a chroma up to which a mix passes for grey
	detourSlack = 1.1 // the dips between the near-greys looked at are as much lower, squared
	toGrey      = 5   // iterations on the way to a grey, which need not be met
	mostGreys   = 4   // greys of other lightness that are tried
)

// nearGrey is a near-grey of the target's lightness.
type nearGrey struct{ a, b, squared float64 }

// chooseGreys fills w.greys with the near-greys nearest to the target.
func (w *workspace) chooseGreys() {
	t := w.aim.Target
	chroma := w.aim.Chroma
	cos, sin := t.A/chroma, t.B/chroma
	w.greys = w.greys[:0]
	for _, turns := range detourTurns {
		for _, side := range [...]float64{-1, 1} {
			best := nearGrey{squared: math.Inf(1)}
			for _, turn := range turns {
				a := float64(cos*turn[0]) - float64(side*sin*turn[1])
				b := float64(sin*turn[0]) + float64(side*cos*turn[1])
				for _, c := range detourChroma {
					if d := w.squaredAt(colour.Lab{L: t.L, A: c * a, B: c * b}); d < best.squared {
						best = nearGrey{c * a, c * b, d}
					}
				}
			}
			w.greys = append(w.greys, best)
		}
	}
}

func (w *workspace) squaredAt(c colour.Lab) float64 {
	w.aimNext.At(c)
	return w.aimNext.Squared
}

// promises reports whether a near-grey of a lightness may be nearer to the target than
// the best mix.
func (w *workspace) promises(g *nearGrey, lightness float64) bool {
	return g.squared+w.offset(lightness) < detourSlack*w.best.squared
}

// detour settles on a grey as light as the target, or nearly, and goes on from there.
func (w *workspace) detour() {
	target := w.aim.Target
	w.restore(&w.best)
	light := target.L
	for range mostGreys {
		w.head(colour.Lab{L: light})
		w.settle()
		if w.passesForGrey() {
			break
		}
		light = w.here.Lab.L
	}
	w.aroundGrey(target, true)
}

func (w *workspace) passesForGrey() bool { return chromaSquared(w.here.Lab) < grey*grey }

// aroundGrey goes from a mix, as grey as can be, to the near-greys of its lightness and
// from each to the target: settling there, or with the same paints.
func (w *workspace) aroundGrey(target colour.Lab, settles bool) {
	w.head(target)
	w.save(&w.from)
	light := w.here.Lab.L
	for k := range w.greys {
		g := &w.greys[k]
		if !w.promises(g, light) {
			continue
		}
		w.restore(&w.from)
		w.head(colour.Lab{L: light, A: g.a, B: g.b})
		w.descend(toGrey)
		w.head(target)
		w.hop()
		if settles {
			w.settle()
		} else {
			w.descend(fullLook)
			w.dropNothing()
		}
		w.keepBetter(0)
	}
}

// head sets a new target for the present mix.
func (w *workspace) head(target colour.Lab) {
	*w.aim = kernel.NewResidual(target)
	*w.aimNext = *w.aim
	w.settled = w.settled[:0] // they were for another
	w.aim.At(w.here.Lab)
}
