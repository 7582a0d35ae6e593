package gamut

import (
	"math"
	"slices"

	"fewtubes/gamut/colour"
)

// DefaultPartsTotal is the most parts in a recipe when no limit is given.
const DefaultPartsTotal = 20

// worthAPaint is the CIEDE2000 a recipe must gain for each paint more: less is
// hard to see side by side (common practice, no source).
const worthAPaint = 0.25

// Recipe is mix in small whole parts by volume, at most maxTotal together (0:
// 20; 255 at most), with the difference of those parts to the target. Up to three paints
// every division is tried; with more, those that the slopes at the best amounts
// favour. Paints whose absence costs less than a quarter of a unit are left
// out.
func (m *Mixer) Recipe(target colour.Lab, mix Mix, maxTotal int) Recipe {
	if len(mix.Paints) == 0 {
		return Recipe{DE: math.Inf(1)}
	}
	if maxTotal <= 0 {
		maxTotal = DefaultPartsTotal
	}
	maxTotal = min(maxTotal, len(logs)-1)
	w := m.pool.Get().(*workspace)
	defer m.pool.Put(w)
	w.begin(target, nil)
	s := shortener{w: w, target: target, most: maxTotal, seen: map[string]bool{}}
	s.try(mix.Paints)
	return s.fewest()
}

// shortener tries the paints of a mix and then fewer and fewer of them.
type shortener struct {
	w      *workspace
	target colour.Lab
	most   int
	seen   map[string]bool
	found  []Recipe
	least  float64 // DE of the best found
}

// try divides the paints into parts and goes on without each of them, as long
// as free amounts of what is left could still be good enough.
func (s *shortener) try(paints []int) {
	key := keyOf(paints)
	if s.seen[key] {
		return
	}
	s.seen[key] = true
	amounts, free := s.w.fit(paints)
	if len(s.found) > 0 && free > s.least+worthAPaint {
		return
	}
	if len(paints) <= s.most {
		r := s.divide(paints, amounts)
		if len(s.found) == 0 || r.DE < s.least {
			s.least = r.DE
		}
		s.found = append(s.found, r)
	}
	if len(paints) == 1 {
		return
	}
	for i := range paints {
		s.try(slices.Delete(slices.Clone(paints), i, i+1))
	}
}

// fewest is the recipe of fewest paints that is good enough.
func (s *shortener) fewest() Recipe {
	best := Recipe{DE: math.Inf(1)}
	for _, r := range s.found {
		if r.DE > s.least+worthAPaint {
			continue
		}
		if n := len(best.Paints); n == 0 || len(r.Paints) < n || (len(r.Paints) == n && r.DE < best.DE) {
			best = r
		}
	}
	return best
}

func (s *shortener) divide(paints []int, amounts []float64) Recipe {
	m := s.w.m
	d := divider{aim: newResidual(s.target), optics: &m.optics, most: s.most}
	for _, p := range paints {
		d.paint = append(d.paint, m.bands[p])
		d.volume = append(d.volume, m.scale[p])
	}
	if len(paints) > mostExhaustive {
		d.model(amounts)
	}
	parts := d.best()
	r := Recipe{Paints: slices.Clone(paints), Parts: parts}
	r.Lab = m.Evaluate(r.Paints, floats(parts))
	r.DE = colour.DE2000(r.Lab, s.target)
	return r
}

// fit is the nearest mix of exactly these paints, from equal scaled amounts and
// from what is in them now: scaled amounts and CIEDE2000.
func (w *workspace) fit(paints []int) (amounts []float64, de float64) {
	amounts = make([]float64, len(paints))
	least := math.Inf(1)
	for _, lean := range [...]int{-1, 0, len(paints) - 1} {
		w.list = append(w.list[:0], paints...)
		w.amount = w.amount[:0]
		for i := range paints {
			a := 1.0
			if i == lean {
				a = 8
			}
			w.amount = append(w.amount, a)
		}
		normalise(w.amount)
		w.evaluate()
		w.descend(fullLook)
		if w.aim.squared < least {
			least = w.aim.squared
			copy(amounts, w.amount)
		}
	}
	return amounts, math.Sqrt(least)
}

func keyOf(paints []int) string {
	key := make([]byte, 0, 2*len(paints))
	for _, p := range paints {
		key = append(key, byte(p), byte(p>>8))
	}
	return string(key)
}

func floats(parts []int) []float64 {
	out := make([]float64, len(parts))
	for i, n := range parts {
		out[i] = float64(n)
	}
	return out
}
