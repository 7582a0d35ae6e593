package main

import (
	"fmt"
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
)

// correction brings a chart patch nearer to what its pigment is elsewhere. Three
// numbers serve all patches, and one strength each group of pigments:
//
//	K/S  becomes  (K/S)^2 / (K/S + floor)
//	S    becomes  its mean times (S / mean)^even, over (white's share)^unit, over strength
//
// The floor is absorption that light bands of the patches show and paints do not
// have. S of the patches rises and falls too much with wavelength, and counts per film.
type correction struct {
	share             [colour.Bands]float64
	floor, even, unit float64
	strength          map[string]float64 // by group
}

// ratio is the corrected K/S in band b.
func (c *correction) ratio(patch *film.Paint, b int) float64 {
	q := patch.K[b] / patch.S[b]
	return q * q / (q + c.floor)
}

// shape is the corrected patch but for its strength.
func (c *correction) shape(patch *film.Paint) (out film.Paint) {
	mean := 0.0
	for _, s := range patch.S {
		mean += portable.Log(s) / colour.Bands
	}
	for b, s := range patch.S {
		out.S[b] = portable.Exp(mean + float64(c.even*(portable.Log(s)-mean)) - float64(c.unit*portable.Log(c.share[b])))
		out.K[b] = c.ratio(patch, b) * out.S[b]
	}
	return out
}

func (c *correction) paint(patch *film.Paint, group string) (film.Paint, error) {
	by, ok := c.strength[group]
	if !ok {
		return film.Paint{}, fmt.Errorf("there is no group %q of chart patches", group)
	}
	p := c.shape(patch)
	return times(&p, 1/by), nil
}

// pair is a pigment that stands on the chart and elsewhere.
type pair struct {
	step  derivation
	patch *film.Paint
	like  *film.Paint // what it is elsewhere
	seen  swatch      // of like
}

// chartPairs are the pigments of the derivations that stand on the chart and elsewhere.
func chartPairs(p *published, steps []derivation) ([]pair, error) {
	d := newDeriver(p, nil, steps)
	white := p.sets[okumura][okumuraWhite]
	var out []pair
	for _, s := range steps {
		patch := s.onChart()
		if s.method != "readings" || patch == nil {
			continue
		}
		like, err := d.foretold(s, []string{chart})
		if err == errNoReading {
			continue
		}
		on := p.sets[chart][patch.name]
		if err != nil || on == nil {
			return nil, fmt.Errorf("%s: %q: %v", s.id, patch, err)
		}
		out = append(out, pair{s, on, &like, newSwatch(&like, white)})
	}
	return out, nil
}

// onChart is the chart patch of a pigment; nil if there is none.
func (s *derivation) onChart() *source {
	for _, from := range [][]source{s.readings, s.otherwise} {
		for i := range from {
			if from[i].set == chart {
				return &from[i]
			}
		}
	}
	return nil
}

// The values tried for the three numbers.
var (
	floors = []float64{0, 0.02, 0.04, 0.06, 0.08, 0.10, 0.12, 0.14, 0.17, 0.20, 0.24, 0.28, 0.33}
	evens  = []float64{0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1}
	units  = []float64{0, 0.2, 0.4, 0.6, 0.8, 1}
)

// learner holds what every pair makes of every value tried, so that a
// correction learnt without one of them costs no more searches.
type learner struct {
	share [colour.Bands]float64
	white *film.Paint
	pairs []pair
	tints map[[3]float64][]likeness // by floor, even and unit, of each pair
}

func newLearner(p *published, steps []derivation) (*learner, error) {
	pairs, err := chartPairs(p, steps)
	return &learner{share: p.whiteShare(), white: p.sets[okumura][okumuraWhite], pairs: pairs, tints: map[[3]float64][]likeness{}}, err
}

func (l *learner) likenesses(at [3]float64) []likeness {
	if l.tints[at] == nil {
		c := correction{share: l.share, floor: at[0], even: at[1], unit: at[2]}
		for i := range l.pairs {
			p := c.shape(l.pairs[i].patch)
			l.tints[at] = append(l.tints[at], likenessTo(l.pairs[i].seen, &p, l.white))
		}
	}
	return l.tints[at]
}

// learn finds the correction that all pairs but one ask for (none left out: -1):
// the floor that brings their masstones nearest, then the two numbers that bring
// their tints nearest, in the sum of the square roots of CIEDE2000, then
// the geometric mean strength of each group.
func (l *learner) learn(without int) *correction {
	sum := func(at [3]float64, of func(likeness) float64) (s float64) {
		for i, k := range l.likenesses(at) {
			if i != without {
				s += math.Sqrt(of(k))
			}
		}
		return s
	}
	best, least := [3]float64{floors[0], 1, 1}, math.Inf(1)
	for _, f := range floors {
		at := [3]float64{f, 1, 1}
		if s := sum(at, func(k likeness) float64 { return k.masstone }); s < least {
			best, least = at, s
		}
	}
	least = math.Inf(1)
	for _, e := range evens {
		for _, u := range units {
			at := [3]float64{best[0], e, u}
			if s := sum(at, func(k likeness) float64 { return k.tint }); s < least {
				best, least = at, s
			}
		}
	}
	c := &correction{share: l.share, floor: best[0], even: best[1], unit: best[2], strength: map[string]float64{}}
	logs := map[string][]float64{}
	for i, k := range l.likenesses(best) {
		if i != without {
			logs[l.pairs[i].step.group] = append(logs[l.pairs[i].step.group], portable.Log(k.strength))
		}
	}
	for group, v := range logs {
		c.strength[group] = portable.Exp(mean(v))
	}
	return c
}
