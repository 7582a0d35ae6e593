package recipe

import (
	"cmp"
	"slices"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// The rule for the plainest of the recipes of one kind.
const (
	easily  = 2.0 / 3 // of the tolerance: within it a recipe serves without standing at the edge
	mayLose = 0.5     // CIEDE2000 that fewer parts may cost
)

// Easily is the difference within which a recipe serves without standing at the edge
// of a tolerance.
func Easily(tolerance float64) float64 { return tolerance * easily }

// candidate is a recipe that has been counted out.
type candidate struct {
	set      ingredients
	division division
	de       float64
	serial   uint64 // in the order of counting; ties go to the first
}

// before reports whether c comes before another of as many paints and parts.
func (c *candidate) before(other *candidate) bool {
	return cmp.Or(portable.Compare(c.de, other.de, portable.Fine), cmp.Compare(c.serial, other.serial)) < 0
}

// shelf keeps the nearest recipe of each number of paints and of parts.
type shelf struct {
	slots [mostIngredients + 1][]candidate // by paints, in the order of quarters; a slot without a set is free
}

func (s *shelf) put(c candidate) {
	row := &s.slots[len(c.set.paints.list())]
	for len(*row) <= int(c.division.total) {
		*row = append(*row, candidate{})
	}
	if at := &(*row)[c.division.total]; at.set.n == 0 || c.before(at) {
		*at = c
	}
}

// wants reports whether a recipe of such figures would be kept.
func (s *shelf) wants(c *candidate) bool {
	row := s.slots[len(c.set.paints.list())]
	if len(row) <= int(c.division.total) {
		return true
	}
	at := &row[c.division.total]
	return at.set.n == 0 || c.before(at)
}

func (s *shelf) merge(other *shelf) {
	for _, row := range other.slots {
		for _, c := range row {
			if c.set.n > 0 {
				s.put(c)
			}
		}
	}
}

// plainest is the recipe of the fewest paints that come within two thirds of the
// tolerance, else within the tolerance; of these that of the fewest parts that
// lose no more than half a unit against the nearest of as many paints.
func (s *shelf) plainest(tolerance float64) (candidate, bool) {
	for _, limit := range [...]float64{tolerance * easily, tolerance} {
		for _, row := range s.slots {
			if c, ok := fewestParts(row, limit); ok {
				return c, true
			}
		}
	}
	return candidate{}, false
}

func fewestParts(row []candidate, limit float64) (candidate, bool) {
	nearest := -1
	for i := range row {
		if row[i].set.n > 0 && (nearest < 0 || row[i].de < row[nearest].de) {
			nearest = i
		}
	}
	if nearest < 0 || row[nearest].de > limit {
		return candidate{}, false
	}
	enough := min(row[nearest].de+mayLose, limit)
	for _, c := range row {
		if c.set.n > 0 && c.de <= enough {
			return c, true
		}
	}
	return row[nearest], true
}

// recipe is a candidate, evaluated anew by the film model.
func (k *Kitchen) recipe(kind Kind, c *candidate, target *Target) Recipe {
	out := Recipe{Kind: kind, Paints: len(c.set.paints.list())}
	items := c.set.items(nil)
	volumes := make([]float64, len(items))
	for i := range items {
		volumes[i] = float64(c.division.quarters[i])
	}
	for i, item := range items {
		part := Part{Ingredient: k.ingredients[item], Quarters: int(c.division.quarters[i])}
		if part.Touch() {
			volumes[i] *= 2
			part.Overdone = k.mixer.Evaluate(items, volumes)
			volumes[i] /= 2
		}
		out.Parts = append(out.Parts, part)
	}
	slices.SortStableFunc(out.Parts, func(a, b Part) int { return cmp.Compare(b.Quarters, a.Quarters) })
	out.Lab = k.mixer.Evaluate(items, volumes)
	out.DE = colour.DE2000(out.Lab, target.Lab)
	out.Within = out.DE <= target.Tolerance
	return out
}
