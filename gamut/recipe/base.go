package recipe

import (
	"cmp"
	"context"
	"math/bits"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// Base is a mix that lies on the palette and is varied.
type Base struct {
	Paints []int // of the mixer, each once
	Parts  []int // > 0, of each
}

// MostBases are varied on one palette.
const MostBases = 3

// mostAdded is how many tubes are added to a base.
const mostAdded = 2

// Varied is a colour as a base with at most two additions.
type Varied struct {
	Base int // its place in the list
	Take int // whole parts of it; 0: no base serves
	Add  []Part
	Lab  colour.Lab
	DE   float64 // CIEDE2000 to the target, within the tolerance
}

// Vary makes each target of the base that serves it most plainly: the fewest
// additions that come within two thirds of the tolerance, else within it, then the
// fewest parts that lose no more than half a unit against the nearest with as many additions. Additions
// are tubes of the palette, in whole parts or touches, a touch under the rule of recipes.
// A base counts as one paint of a mix.
func Vary(ctx context.Context, m *gamut.Mixer, bases []Base, targets []Target, palette set.Set, limits Limits) ([]Varied, error) {
	v := newVarier(m, limits)
	goals := make([]goal, len(targets))
	for t := range targets {
		goals[t] = newGoal(t, &targets[t])
	}
	// By base the shelves are apart, so that no ties depend on what else is asked.
	shelves := make([][]variations, len(bases))
	parallel.EachOf(len(bases), func() func(int) {
		own := newVarier(m, limits)
		return func(b int) {
			shelves[b] = make([]variations, len(targets))
			for added := 0; added <= min(mostAdded, m.PaintsPerMix()-1); added++ {
				subsets(indices(palette), added, func(tubes []int16) {
					if ctx.Err() == nil {
						own.vary(b, &bases[b], tubes, goals, shelves[b])
					}
				})
			}
		}
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	out := make([]Varied, len(targets))
	for t := range targets {
		var all variations
		for b := range bases {
			all.merge(&shelves[b][t])
		}
		if c, ok := all.plainest(targets[t].Tolerance); ok {
			out[t] = v.varied(&c, &bases[c.base], &targets[t])
		}
	}
	return out, nil
}

func indices(s set.Set) (out []int16) {
	for _, p := range s.Members() {
		out = append(out, int16(p))
	}
	return out
}

// varier mixes bases with additions.
type varier struct {
	mixer     *gamut.Mixer
	meter     *gamut.Meter
	divisions [mostAdded + 2][]division // by number of ingredients, the base first
	paints    []int
	volumes   []float64
}

func newVarier(m *gamut.Mixer, limits Limits) *varier {
	if limits.Total <= 0 {
		limits.Total = DefaultTotal
	}
	v := &varier{mixer: m, meter: m.Meter()}
	for n := 1; n < len(v.divisions); n++ {
		for _, d := range divisions(n, min(limits.Total, mostIngredients*mostOfOne)) {
			if d.touches&1 == 0 { // of a base whole parts are taken
				v.divisions[n] = append(v.divisions[n], d)
			}
		}
	}
	return v
}

// variation is a base with additions that has been tried.
type variation struct {
	base     int
	tubes    [mostAdded]int16
	added    int
	division *division
	de       float64
}

// variations keep the nearest of each number of additions and of quarters; a place
// without a division is free.
type variations [mostAdded + 1][]variation

func (s *variations) put(c *variation) {
	row := &s[c.added]
	for len(*row) <= int(c.division.total) {
		*row = append(*row, variation{})
	}
	if at := &(*row)[c.division.total]; at.division == nil || portable.Compare(c.de, at.de, portable.Fine) < 0 {
		*at = *c
	}
}

func (s *variations) merge(other *variations) {
	for _, row := range other {
		for i := range row {
			if row[i].division != nil {
				s.put(&row[i])
			}
		}
	}
}

// plainest is what shelf.plainest is to recipes.
func (s *variations) plainest(tolerance float64) (variation, bool) {
	for _, limit := range [...]float64{tolerance * easily, tolerance} {
		for _, row := range s {
			row = slices.DeleteFunc(slices.Clone(row), func(c variation) bool { return c.division == nil || c.de > limit })
			if len(row) == 0 {
				continue
			}
			nearest := slices.MinFunc(row, func(a, b variation) int { return cmp.Compare(a.de, b.de) })
			return row[slices.IndexFunc(row, func(c variation) bool { return c.de <= nearest.de+mayLose })], true
		}
	}
	return variation{}, false
}

// vary tries every division of a base and some tubes.
func (v *varier) vary(base int, b *Base, tubes []int16, goals []goal, keep []variations) {
	c := variation{base: base, added: len(tubes)}
	copy(c.tubes[:], tubes)
	list := v.divisions[1+len(tubes)]
	for i := range list {
		c.division = &list[i]
		lab := v.lab(b, &c, c.division.quarters)
		for g := range goals {
			var near bool
			if c.de, near = goals[g].difference(lab); near && (c.division.touches == 0 || v.steady(b, &c, &goals[g])) {
				keep[g].put(&c)
			}
		}
	}
}

// lay is what a variation is made of, by paints; bases may hold what is added.
func (v *varier) lay(b *Base, c *variation, quarters [mostIngredients]uint8) {
	total := 0
	for _, n := range b.Parts {
		total += n
	}
	v.paints, v.volumes = append(v.paints[:0], b.Paints...), v.volumes[:0]
	for _, n := range b.Parts {
		v.volumes = append(v.volumes, float64(quarters[0])*float64(n)/float64(total))
	}
	for i, t := range c.tubes[:c.added] {
		v.paints = append(v.paints, int(t))
		v.volumes = append(v.volumes, float64(quarters[1+i])/inPart)
	}
	for i := range b.Parts {
		v.volumes[i] /= inPart
	}
}

// inPart are the quarters in a part.
const inPart = 4

func (v *varier) lab(b *Base, c *variation, quarters [mostIngredients]uint8) colour.Lab {
	v.lay(b, c, quarters)
	return v.meter.Lab(v.paints, v.volumes)
}

// steady is what counter.steady is to recipes.
func (v *varier) steady(b *Base, c *variation, g *goal) bool {
	touches := bits.OnesCount8(c.division.touches)
	for choice := range 1 << touches {
		quarters, at := c.division.quarters, 0
		v.lay(b, c, quarters)
		for i := range c.added {
			if c.division.touches>>(1+i)&1 == 1 {
				place := len(b.Paints) + i
				if v.volumes[place] *= 2; choice>>at&1 == 1 {
					v.volumes[place] /= 4
				}
				at++
			}
		}
		if colour.DE2000(v.meter.Lab(v.paints, v.volumes), g.lab) > g.stray {
			return false
		}
	}
	return true
}

// varied is a variation, evaluated anew.
func (v *varier) varied(c *variation, b *Base, target *Target) Varied {
	out := Varied{Base: c.base, Take: int(c.division.quarters[0]) / inPart}
	v.lay(b, c, c.division.quarters)
	for i, t := range c.tubes[:c.added] {
		part := Part{Ingredient: Ingredient{Paint: int(t)}, Quarters: int(c.division.quarters[1+i])}
		if part.Touch() {
			place := len(b.Paints) + i
			v.volumes[place] *= 2
			part.Overdone = v.mixer.Evaluate(v.paints, v.volumes)
			v.volumes[place] /= 2
		}
		out.Add = append(out.Add, part)
	}
	slices.SortStableFunc(out.Add, func(a, b Part) int { return b.Quarters - a.Quarters })
	out.Lab = v.mixer.Evaluate(v.paints, v.volumes)
	out.DE = colour.DE2000(out.Lab, target.Lab)
	return out
}
