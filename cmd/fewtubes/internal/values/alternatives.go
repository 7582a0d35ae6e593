package values

import (
	"math"
	"slices"
)

// Alternative is a way to part a picture into few flat values.
type Alternative struct {
	Name   string
	Plan   Plan
	Shares []float64 // of the picture, by level
	Dark   float64   // the largest connected part of the darkest level, part of the picture
	Light  float64   // the same of the lightest
}

// What a plan holds together by (common practice, no source): its largest dark and
// its largest light are each so much of the picture, and so much of their level.
const (
	leastMass  = 0.12
	leastWhole = 0.6
	leastOther = 0.05 // of dark in dark and light together, that another plan shifts
)

// Together reports whether a plan keeps one large dark and one large light.
func (a *Alternative) Together() bool {
	return len(a.Shares) > 1 && mass{a.Shares[0], a.Dark}.large() && mass{a.Shares[len(a.Shares)-1], a.Light}.large()
}

// Alternatives part a picture into n flat values, 2 or more: by its own values (see
// NewPlan) and, where thresholds do that keep one large dark and one large light,
// with more dark and with more light.
func Alternatives(g Grey, n int) []Alternative {
	small := g.thinned(150)
	fit := newAlternative("as the picture has it", g, small, NewPlan(g, n))
	out := []Alternative{fit}
	if len(fit.Plan.Levels) < 2 {
		return out
	}
	steps := newThresholds(small)
	dark, light := fit.Shares[0], fit.Shares[len(fit.Shares)-1]
	for _, other := range []struct {
		name string
		goal float64 // of dark, in dark and light together
		more func(ratio float64) bool
	}{
		{"more dark", 2.0 / 3, func(ratio float64) bool { return ratio >= dark/(dark+light)+leastOther }},
		{"more light", 1.0 / 3, func(ratio float64) bool { return ratio <= dark/(dark+light)-leastOther }},
	} {
		if p, ok := steps.plan(g, n, other.goal, 1-dark-light, other.more); ok {
			out = append(out, newAlternative(other.name, g, small, p))
		}
	}
	return out
}

func newAlternative(name string, g, small Grey, p Plan) Alternative {
	a := Alternative{Name: name, Plan: p, Shares: p.Shares(g)}
	last := len(p.Levels) - 1
	a.Dark = largest(small, func(l float64) bool { return p.Level(l) == 0 })
	a.Light = largest(small, func(l float64) bool { return p.Level(l) == last })
	return a
}

// mass is the part of a picture that a level takes, and its largest piece.
type mass struct{ share, largest float64 }

func (m mass) large() bool { return m.largest >= leastMass && m.largest >= leastWhole*m.share }

// threshold parts a picture in two.
type threshold struct {
	at          float64 // L*
	dark, light mass
}

type thresholds []threshold

func newThresholds(g Grey) (out thresholds) {
	const step = 2.0 // L*
	low, high := slices.Min(g.L), slices.Max(g.L)
	for at := math.Ceil(low) + 0.5; at < high; at += step {
		t := threshold{at: at}
		for _, l := range g.L {
			if l < at {
				t.dark.share += 1 / float64(len(g.L))
			}
		}
		t.light.share = 1 - t.dark.share
		t.dark.largest = largest(g, func(l float64) bool { return l < at })
		t.light.largest = largest(g, func(l float64) bool { return l >= at })
		out = append(out, t)
	}
	return out
}

// plan parts the picture by the two thresholds, one for n = 2, that keep large
// masses and come nearest to a share of dark and to a share between.
func (all thresholds) plan(g Grey, n int, goal, between float64, more func(ratio float64) bool) (best Plan, ok bool) {
	least := math.Inf(1)
	for i := range all {
		for k := i; k < len(all); k++ {
			if (n == 2) != (i == k) {
				continue
			}
			d, l := all[i].dark.share, all[k].light.share
			if !all[i].dark.large() || !all[k].light.large() || !more(d/(d+l)) {
				continue
			}
			cost := math.Abs(d/(d+l)-goal) + math.Abs(1-d-l-between)
			if cost >= least-1e-9 {
				continue
			}
			if p, whole := parted(g, n, all[i].at, all[k].at); whole {
				best, least, ok = p, cost, true
			}
		}
	}
	return best, ok
}

// parted is the plan of n values with the given outer thresholds; those between
// are fitted. It is not whole where there are not values enough.
func parted(g Grey, n int, low, high float64) (p Plan, whole bool) {
	var dark, middle, light Grey
	for _, l := range g.L {
		switch {
		case l < low:
			dark.L = append(dark.L, l)
		case l >= high:
			light.L = append(light.L, l)
		default:
			middle.L = append(middle.L, l)
		}
	}
	if len(dark.L) == 0 || len(light.L) == 0 {
		return p, false
	}
	p = Plan{Levels: NewPlan(dark, 1).Levels, Bounds: []float64{low}}
	if n > 2 {
		inner := NewPlan(middle, n-2)
		p.Levels = append(p.Levels, inner.Levels...)
		p.Bounds = append(append(p.Bounds, inner.Bounds...), high)
	}
	p.Levels = append(p.Levels, NewPlan(light, 1).Levels...)
	return p, len(p.Levels) == n
}

// largest is the part of a picture that the largest connected piece takes of what
// counts.
func largest(g Grey, counts func(l float64) bool) float64 {
	mask := make([]bool, len(g.L))
	for i, l := range g.L {
		mask[i] = counts(l)
	}
	return float64(len(largestPatch(mask, g.W, g.H))) / float64(len(g.L))
}

// thinned keeps some pixels of a picture, at most so many along its longer side.
func (g Grey) thinned(longest int) Grey {
	by := (max(g.W, g.H) + longest - 1) / longest
	if by <= 1 {
		return g
	}
	out := Grey{W: (g.W + by - 1) / by, H: (g.H + by - 1) / by}
	for y := 0; y < g.H; y += by {
		for x := 0; x < g.W; x += by {
			out.L = append(out.L, g.L[y*g.W+x])
		}
	}
	return out
}
