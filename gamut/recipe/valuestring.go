package recipe

import (
	"cmp"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// Step is one mix of a value string: parts of the mix before it, and one addition.
type Step struct {
	Goal    colour.Lab // the hue asked for at the value of the step; as StringGoal.For has it
	Before  int        // whole parts of the mix before
	Add     Part       // of a tube
	Volumes []float64  // what the whole is made of, by paint of the mixer; sum 1
	Lab     colour.Lab
	DE      float64 // CIEDE2000 to the goal
	Within  bool    // the tolerance
}

// Limits of a string in values.
const (
	StringStep = 10.0 // of L* from mix to mix: about a step of Munsell value (ASTM D1535, from memory)
	MostString = 9    // mixes
)

// StringValues are the L* of a string of n mixes, ascending, one of them the lightness
// of the colour asked for. They are StringStep apart, or as far as the darkest and the
// lightest tube leave room, with as many below the colour as above where that costs nothing.
func StringValues(lightness float64, n int, darkest, lightest float64) []float64 {
	below, step := 0, -1.0
	for b := range n {
		s := StringStep
		if b > 0 {
			s = min(s, (lightness-darkest)/float64(b))
		}
		if above := n - 1 - b; above > 0 {
			s = min(s, (lightest-lightness)/float64(above))
		}
		uneven := func(b int) int { return max(n-1-2*b, 2*b-n+1) }
		if order := portable.Compare(s, step, portable.Fine); order > 0 || order == 0 && uneven(b) < uneven(below) {
			below, step = b, s
		}
	}
	values := make([]float64, n)
	for i := range values {
		values[i] = lightness + float64(float64(i-below)*step)
	}
	return values
}

// ValueString makes mixes of the hue of a target, one from the other: from the pile to
// the first of some values of L*, from that to the next and so on, always by one
// addition from the tubes of a palette. Of each tube the amount is taken that is nearest to the
// whole colour among those within two thirds of the tolerance in value and hue, else within it,
// with the fewest parts that lose no more than half a unit; where none lies within, the
// nearest in value and hue. Of the strings that come of this the one with the fewest mixes
// beyond the tolerance is sought, of these the nearest to the whole colours, by following the
// keptStrings best from value to value. A string ends where no addition brings it nearer to the
// next value by more than worthAdding. Mixes hold no more paints than the mixer's PaintsPerMix or the pile.
func ValueString(m *gamut.Mixer, pile gamut.Pile, target Target, values []float64, palette set.Set, limits Limits) ([]Step, error) {
	w, err := newMender(m, pile, target)
	if err != nil {
		return nil, err
	}
	if limits.Total <= 0 {
		limits.Total = DefaultTotal
	}
	s := stringer{meter: w.meter, mixer: m, divisions: divisions(2, min(limits.Total, mostIngredients*mostOfOne)), tolerance: target.Tolerance}
	s.most = max(len(pile.Paints), m.PaintsPerMix())
	start := strung{volumes: make([]float64, m.Len())}
	total := 0.0
	for _, a := range pile.Amounts {
		total += a
	}
	for i, p := range pile.Paints {
		start.volumes[p] += pile.Amounts[i] / total
	}
	best := []strung{start}
	for _, l := range values {
		var next []strung
		for i := range best {
			next = append(next, s.further(&best[i], StringGoal{target.Lab, l}, palette.Members())...)
		}
		if len(next) == 0 {
			break
		}
		slices.SortStableFunc(next, strung.compare)
		best = next[:min(len(next), keptStrings)]
	}
	return best[0].steps, nil
}

// worthAdding is the CIEDE2000 by which an addition must bring a mix nearer to the next
// value: less is hardly seen (common practice, no source).
const worthAdding = 1.0

// keptStrings are followed from value to value: all ways would be as many as the paints
// to the power of the steps.
const keptStrings = 20

// strung is a string as far as it goes.
type strung struct {
	steps   []Step
	volumes []float64 // of the last mix, or of the pile; sum 1
	missed  int
	far     float64 // the CIEDE2000 to the whole colours together
}

func (a strung) compare(b strung) int {
	return cmp.Or(cmp.Compare(a.missed, b.missed), portable.Compare(a.far, b.far, portable.Fine))
}

// stringer looks for the next mix of a string.
type stringer struct {
	mixer     *gamut.Mixer
	meter     *gamut.Meter
	divisions []division // of the mix before and an addition
	tolerance float64
	most      int       // paints
	volumes   []float64 // of the mix before
	paints    []int
	amounts   []float64
}

// stringing is a step that has been tried.
type stringing struct {
	paint    int
	division *division
	off      float64 // CIEDE2000 in value and hue
	whole    float64 // CIEDE2000
}

// further is a string with one more mix, by each tube that brings it nearer.
func (s *stringer) further(from *strung, goal StringGoal, palette []int) (out []strung) {
	s.volumes = from.volumes
	lying := goal.off(s.lab(-1, 1, 0))
	held := 0
	for _, v := range s.volumes {
		if v > 0 {
			held++
		}
	}
	for _, p := range palette {
		if s.volumes[p] == 0 && held >= s.most {
			continue
		}
		var tried []stringing
		for i := range s.divisions {
			d := &s.divisions[i]
			if d.touches&1 != 0 { // of the mix before whole parts are taken
				continue
			}
			t := s.try(p, d, goal)
			if portable.Compare(t.off, lying-worthAdding, portable.Fine) < 0 && (d.touches == 0 || s.steady(&t, goal)) {
				tried = append(tried, t)
			}
		}
		if t, ok := s.best(tried); ok {
			step := s.made(&t, goal)
			next := strung{append(slices.Clone(from.steps), step), step.Volumes, from.missed, from.far + t.whole}
			if !step.Within {
				next.missed++
			}
			out = append(out, next)
		}
	}
	return out
}

// best is the plainest of the steps that serve.
func (s *stringer) best(tried []stringing) (stringing, bool) {
	for _, limit := range [...]float64{s.tolerance * easily, s.tolerance} {
		serve := slices.DeleteFunc(slices.Clone(tried), func(t stringing) bool { return t.off > limit })
		if len(serve) == 0 {
			continue
		}
		nearest := slices.MinFunc(serve, func(a, b stringing) int { return portable.Compare(a.whole, b.whole, portable.Fine) })
		serve = slices.DeleteFunc(serve, func(t stringing) bool { return t.whole > nearest.whole+mayLose })
		return slices.MinFunc(serve, func(a, b stringing) int {
			return cmp.Or(cmp.Compare(a.division.total, b.division.total), portable.Compare(a.whole, b.whole, portable.Fine))
		}), true
	}
	if len(tried) == 0 {
		return stringing{}, false
	}
	return slices.MinFunc(tried, func(a, b stringing) int { return portable.Compare(a.off, b.off, portable.Fine) }), true
}

func (s *stringer) try(paint int, d *division, goal StringGoal) stringing {
	lab := s.lab(paint, float64(d.quarters[0]), float64(d.quarters[1]))
	return stringing{paint, d, goal.off(lab), colour.DE2000(lab, goal.whole())}
}

// steady is what counter.steady is to recipes.
func (s *stringer) steady(t *stringing, goal StringGoal) bool {
	before, touch := float64(t.division.quarters[0]), float64(t.division.quarters[1])
	for _, much := range [...]float64{touch / 2, touch * 2} {
		if goal.off(s.lab(t.paint, before, much)) > max(s.tolerance, t.off)+mayStray {
			return false
		}
	}
	return true
}

// lab is the colour of the mix before with so much of a paint.
func (s *stringer) lab(paint int, before, added float64) colour.Lab {
	s.paints, s.amounts = s.paints[:0], s.amounts[:0]
	for p, v := range s.volumes {
		v = float64(v * before)
		if p == paint {
			v += added
		}
		if v > 0 {
			s.paints, s.amounts = append(s.paints, p), append(s.amounts, v)
		}
	}
	return s.meter.Lab(s.paints, s.amounts)
}

// made is a step, evaluated anew.
func (s *stringer) made(t *stringing, goal StringGoal) Step {
	before, added := float64(t.division.quarters[0]), float64(t.division.quarters[1])
	out := Step{
		Before: int(t.division.quarters[0]) / 4,
		Add:    Part{Ingredient: Ingredient{Paint: t.paint}, Quarters: int(t.division.quarters[1])},
	}
	if out.Add.Touch() {
		out.Add.Overdone = s.lab(t.paint, before, added*2)
	}
	var paints []int
	for p := range s.volumes {
		v := float64(s.volumes[p] * before)
		if p == t.paint {
			v += added
		}
		if v /= before + added; v > 0 {
			paints = append(paints, p)
		}
		out.Volumes = append(out.Volumes, v)
	}
	var amounts []float64
	for _, p := range paints {
		amounts = append(amounts, out.Volumes[p])
	}
	out.Lab = s.mixer.Evaluate(paints, amounts)
	out.Goal = goal.For(out.Lab)
	out.DE = colour.DE2000(out.Lab, out.Goal)
	out.Within = out.DE <= s.tolerance
	return out
}

// StringGoal is what a mix of a string should be: of the hue and chroma of a colour,
// at some L*.
type StringGoal struct {
	Of colour.Lab
	L  float64
}

// whole is the goal with all its chroma.
func (g StringGoal) whole() colour.Lab {
	goal := g.Of.LCh()
	goal.L = g.L
	return goal.Lab()
}

// StringChroma is the share of the chroma asked for that every mix of a string should have.
const StringChroma = 0.25

// For is the goal that a mix is held to: at the value of the colour itself the colour,
// elsewhere with no more chroma than the mix, but StringChroma, since few hues keep
// theirs near black and white.
func (g StringGoal) For(mix colour.Lab) colour.Lab {
	if g.L == g.Of.L {
		return g.Of
	}
	goal := g.Of.LCh()
	goal.L, goal.C = g.L, max(float64(goal.C*StringChroma), min(goal.C, mix.LCh().C))
	return goal.Lab()
}

func (g StringGoal) off(mix colour.Lab) float64 { return colour.DE2000(mix, g.For(mix)) }
