package gamut

import (
	"math"
	"slices"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/search"
	"fewtubes/gamut/portable"
)

// DefaultPartsTotal is the most parts in a recipe when no limit is given.
const DefaultPartsTotal = 20

// worthAPaint is the CIEDE2000 a recipe must gain for each paint more: less is
// hard to see side by side (common practice, no source).
const worthAPaint = 0.25

// Recipe is mix in small whole parts by volume, at most maxTotal together (0:
// 20; 255 at most), with the difference of those parts to the target. Of up to
// three paints every division is tried; of more, those that the slopes at the
// best amounts favour and their neighbours. Paints whose absence costs less than
// a quarter of a unit are left out.
func (m *Mixer) Recipe(target colour.Lab, mix Mix, maxTotal int) Recipe {
	return m.RecipeBook(target, maxTotal).Recipe(mix)
}

// RecipeBook writes recipes for one target and remembers how paints divide, so
// that mixes that share paints share the work. A recipe does not depend on those
// asked for before. A book serves one goroutine at a time.
type RecipeBook struct {
	m       *Mixer
	target  colour.Lab
	most    int // parts
	entries map[string]*entry
}

// entry is what a book knows of some paints.
type entry struct {
	amounts []float64 // nearest mix of exactly these: scaled amounts
	free    float64   // its CIEDE2000
	recipe  Recipe    // without paints until it is asked for
}

// RecipeBook is an empty book; maxTotal is as for Recipe.
func (m *Mixer) RecipeBook(target colour.Lab, maxTotal int) *RecipeBook {
	if maxTotal <= 0 {
		maxTotal = DefaultPartsTotal
	}
	return &RecipeBook{m: m, target: target, most: min(maxTotal, search.MostParts), entries: map[string]*entry{}}
}

// Recipe is as that of a Mixer.
func (b *RecipeBook) Recipe(mix Mix) Recipe {
	if len(mix.Paints) == 0 {
		return Recipe{DE: math.Inf(1)}
	}
	s := shortener{book: b, seen: map[string]bool{}}
	s.try(mix.Paints)
	r := s.fewest()
	r.Paints, r.Parts = slices.Clone(r.Paints), slices.Clone(r.Parts)
	return r
}

// shortener tries the paints of a mix and then fewer and fewer of them.
type shortener struct {
	book  *RecipeBook
	seen  map[string]bool
	found []Recipe
	least float64 // DE of the best found
}

// try divides the paints into parts and goes on without each of them, as long
// as free amounts of what is left could still be good enough.
func (s *shortener) try(paints []int) {
	key := keyOf(paints)
	if s.seen[key] {
		return
	}
	s.seen[key] = true
	e := s.book.entry(key, paints)
	if len(s.found) > 0 && e.free > s.least+worthAPaint {
		return
	}
	if len(paints) <= s.book.most {
		r := s.book.divide(e, paints)
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
		if n := len(best.Paints); n == 0 || len(r.Paints) < n || (len(r.Paints) == n && portable.Compare(r.DE, best.DE, portable.Fine) < 0) {
			best = r
		}
	}
	return best
}

func (b *RecipeBook) entry(key string, paints []int) *entry {
	e := b.entries[key]
	if e == nil {
		e = &entry{}
		e.amounts, e.free = b.m.search.Fit(b.target, paints)
		b.entries[key] = e
	}
	return e
}

func (b *RecipeBook) divide(e *entry, paints []int) Recipe {
	r := &e.recipe
	if r.Paints != nil {
		return *r
	}
	r.Paints, r.Parts = slices.Clone(paints), b.m.search.Divide(b.target, paints, e.amounts, b.most)
	r.Lab = b.m.Evaluate(r.Paints, floats(r.Parts))
	r.DE = colour.DE2000(r.Lab, b.target)
	return *r
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
