package solver

import (
	"fmt"
	"math"
	"slices"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/solver/internal/choice"
)

// same is how near two ways to work out one difference must come.
const same = 1e-6

// verify checks an answer against every limit and target in plain code that
// shares nothing with the search. A failure is a fault of the program.
func (s *Session) verify(a *Answer, l *Limits) error {
	if err := a.finite(); err != nil {
		return fmt.Errorf("solver: internal: %w", err)
	}
	missed := map[string]bool{}
	for _, m := range slices.Concat(a.Unreachable, a.Missed) {
		missed[m.Target] = true
	}
	if l.FewestToBuy && a.ToBuy != nil {
		for i := range a.Palettes {
			if n := len(a.Palettes[i].Buy); n != a.ToBuy.Tubes {
				return fmt.Errorf("solver: internal: palette %d: %d tubes to buy, not %d", i+1, n, a.ToBuy.Tubes)
			}
		}
	}
	for i := range a.Palettes {
		if err := s.verifyPalette(&a.Palettes[i], l, missed); err != nil {
			return fmt.Errorf("solver: internal: palette %d: %w", i+1, err)
		}
	}
	if a.Smaller == nil {
		return nil
	}
	if err := s.verifySmaller(a.Smaller, &a.Palettes[0], l); err != nil {
		return fmt.Errorf("solver: internal: the smaller palette: %w", err)
	}
	return nil
}

// verifySmaller checks that a palette has fewer tubes than another and misses no
// more area.
func (s *Session) verifySmaller(p, than *Palette, l *Limits) error {
	if len(p.Tubes) >= len(than.Tubes) {
		return fmt.Errorf("it has %d tubes, the other %d", len(p.Tubes), len(than.Tubes))
	}
	area, whole := [2]float64{}, 0.0
	missed := map[string]bool{}
	for t := range s.problem.Targets {
		whole += s.problem.Targets[t].Area
	}
	for k, q := range []*Palette{p, than} {
		for t, o := range q.Targets {
			if !o.Reached {
				missed[o.Target] = true
				area[k] += max(s.problem.Targets[t].Area, whole/choice.AreaSteps)
			}
		}
	}
	if slack := whole * float64(len(p.Targets)) / choice.AreaSteps; area[0] > area[1]+slack {
		return fmt.Errorf("it misses %v of area, the other %v", area[0], area[1])
	}
	return s.verifyPalette(p, l, missed)
}

func (s *Session) verifyPalette(p *Palette, l *Limits, missed map[string]bool) error {
	if err := s.verifyLimits(p, l); err != nil {
		return err
	}
	for t := range p.Targets {
		if err := s.verifyOutcome(p, &p.Targets[t], &s.problem.Targets[t], missed); err != nil {
			return fmt.Errorf("target %q: %w", p.Targets[t].Target, err)
		}
	}
	return nil
}

func (s *Session) tube(id string) *catalog.Tube { return &s.index.tubes[s.index.place[id]] }

func (s *Session) verifyLimits(p *Palette, l *Limits) error {
	cost := 0
	var buy []string
	for _, id := range p.Tubes {
		t := s.tube(id)
		if !slices.Contains(l.Own, id) && !t.Have {
			cost += t.Price
			buy = append(buy, id)
		}
		for _, class := range l.Avoid {
			if t.InClass(class) {
				return fmt.Errorf("%s is of class %s", id, class)
			}
		}
		if slices.Contains(l.Never, id) || len(l.Only) > 0 && !slices.Contains(l.Only, id) {
			return fmt.Errorf("%s is not allowed", id)
		}
	}
	for _, id := range l.Keep {
		if !slices.Contains(p.Tubes, id) {
			return fmt.Errorf("%s is not kept", id)
		}
	}
	for _, group := range l.AtMostOne {
		n := 0
		for _, id := range p.Tubes {
			if slices.Contains(group, id) {
				n++
			}
		}
		if n > 1 {
			return fmt.Errorf("%d tubes of %v", n, group)
		}
	}
	switch {
	case p.Buy != nil && !slices.Equal(buy, p.Buy):
		return fmt.Errorf("%v are to buy, not %v", buy, p.Buy)
	case cost != p.Price:
		return fmt.Errorf("costs %d, not %d", cost, p.Price)
	case !l.Budget.allows(cost):
		return fmt.Errorf("costs %d of %d", cost, l.Budget.most)
	case l.MaxTubes > 0 && len(p.Tubes) > l.MaxTubes:
		return fmt.Errorf("%d tubes of %d", len(p.Tubes), l.MaxTubes)
	}
	return nil
}

func (s *Session) verifyOutcome(p *Palette, o *Outcome, t *Target, missed map[string]bool) error {
	if len(o.Shares) == 0 {
		if len(p.Tubes) > 0 {
			return fmt.Errorf("has no mix")
		}
		return nil
	}
	whole := 0.0
	for _, share := range o.Shares {
		whole += share.Fraction
		if !slices.Contains(p.Tubes, share.ID) || !(share.Fraction > 0) {
			return fmt.Errorf("%v of %s", share.Fraction, share.ID)
		}
	}
	var parts []Share
	total := 0
	for _, part := range o.Parts {
		parts = append(parts, Share{part.ID, float64(part.Parts)})
		total += part.Parts
	}
	de := colour.DE2000(seen(&s.problem, s.tube, o.Shares), t.Lab)
	partsDE := colour.DE2000(seen(&s.problem, s.tube, parts), t.Lab)
	switch {
	case math.Abs(whole-1) > same:
		return fmt.Errorf("shares sum to %v", whole)
	case len(o.Shares) > s.problem.PaintsPerMix:
		return fmt.Errorf("%d paints in a mix of %d", len(o.Shares), s.problem.PaintsPerMix)
	case !(math.Abs(de-o.DE) <= same):
		return fmt.Errorf("the difference is %v, not %v", de, o.DE)
	case !(math.Abs(partsDE-o.PartsDE) <= same) || total > s.problem.MaxPartsTotal && s.hand == nil:
		return fmt.Errorf("the difference in %d parts is %v, not %v", total, partsDE, o.PartsDE)
	case o.PartsDE < o.DE-same:
		return fmt.Errorf("parts at %v are nearer than the mix at %v", o.PartsDE, o.DE)
	case o.Reached != (o.DE <= t.Tolerance):
		return fmt.Errorf("reached is %v at %v of %v", o.Reached, o.DE, t.Tolerance)
	case !o.Reached && !missed[t.Name]:
		return fmt.Errorf("missed at %v of %v without a word", o.DE, t.Tolerance)
	}
	return s.verifyByHand(o, t)
}

// seen is the colour of shares of tubes, straight through the film model: it
// shares nothing with the mixer.
func seen(p *Problem, tube func(id string) *catalog.Tube, shares []Share) colour.Lab {
	paints := make([]film.Paint, len(shares))
	amounts := make([]float64, len(shares))
	for i, s := range shares {
		paints[i], amounts[i] = tube(s.ID).Paint, s.Fraction
	}
	var mix film.Paint
	film.Mix(&mix, paints, amounts)
	spectrum := mix.Masstone(p.Surface)
	return p.Light.Lab(&spectrum)
}

// finite names the first figure of an answer that is no number: none may leave.
func (a *Answer) finite() error {
	for i := range a.Palettes {
		if err := a.Palettes[i].finite(); err != nil {
			return fmt.Errorf("palette %d: %w", i+1, err)
		}
	}
	for _, n := range slices.Concat(a.Needs, a.NeedsToBuy) {
		if !(n.BestDE >= 0) { // +Inf: no tube is left to mix from
			return fmt.Errorf("the need of %q: the difference is %v", n.Target, n.BestDE)
		}
	}
	for _, x := range a.Superfluous {
		for _, g := range x.Brings {
			if !isFinite(float64(g.From + g.To)) {
				return fmt.Errorf("what %s brings %q: from %v to %v", x.Tube, g.Target, g.From, g.To)
			}
		}
	}
	if a.Smaller != nil {
		if err := a.Smaller.finite(); err != nil {
			return fmt.Errorf("the smaller palette: %w", err)
		}
	}
	return finiteMisses(slices.Concat(a.Unreachable, a.Missed))
}

func (p *Palette) finite() error {
	if !isFinite(p.WorstDE + p.MeanDE + p.WorstOfAllDE) {
		return fmt.Errorf("the worst and mean difference are %v and %v, the worst of all %v", p.WorstDE, p.MeanDE, p.WorstOfAllDE)
	}
	for i := range p.Targets {
		o := &p.Targets[i]
		if !isFinite(o.DE+o.PartsDE) || !o.Mix.Finite() {
			return fmt.Errorf("target %q: the mix is %v, off by %v, in parts by %v", o.Target, o.Mix, o.DE, o.PartsDE)
		}
	}
	return nil
}

func finiteMisses(misses []Miss) error {
	for _, m := range misses {
		if !isFinite(m.BestDE + m.HelpDE) {
			return fmt.Errorf("the miss of %q: the differences are %v and %v", m.Target, m.BestDE, m.HelpDE)
		}
	}
	return nil
}

func isFinite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
