package solver

import (
	"cmp"
	"context"
	"slices"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/lessons"
)

// Progress is where a choice stands.
type Progress struct {
	AtLeast  int // tubes: no palette has fewer
	AtMost   int // tubes of the best palette found so far; 0: none yet
	Rounds   int
	Cuts     int
	Searches int
}

// Choose finds the smallest palettes that reach every target, or the palette
// that misses least where the limits rule that out. progress may be nil; it is
// called from the calling goroutine.
//
// Errors are *InputError, *UnknownError, *ContradictionError, one wrapping
// *catalog.UnknownTube, or the context's. When the context ends the choice
// early, the answer holds the best palette found by then, if any, with the
// proof "interrupted"; it is nil when there is none.
func Choose(ctx context.Context, p Problem, progress func(Progress)) (*Answer, error) {
	s, err := NewSession(p)
	if err != nil {
		return nil, err
	}
	return s.Choose(ctx, p.Limits, p.Prefer, progress)
}

// Choose is as the function of that name, under the limits and preference given.
func (s *Session) Choose(ctx context.Context, limits Limits, prefer Preference, progress func(Progress)) (*Answer, error) {
	return s.choose(ctx, &asked{limits: limits, prefer: prefer}, progress)
}

// ChooseWhole is Choose for callers who have no use for half an answer: when the
// context ends there is none, and no time goes into finishing one.
func (s *Session) ChooseWhole(ctx context.Context, limits Limits, prefer Preference, progress func(Progress)) (*Answer, error) {
	return s.choose(ctx, &asked{limits: limits, prefer: prefer, whole: true}, progress)
}

// asked is what a choice was asked by.
type asked struct {
	limits Limits
	prefer Preference
	whole  bool // when the context ends, nothing is finished

	surest set.Set // of all palettes, where that is preferred; else nil
}

func (s *Session) choose(ctx context.Context, by *asked, progress func(Progress)) (*Answer, error) {
	by.prefer = cmp.Or(by.prefer, Usual)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	w, err := s.index.wish(&by.limits)
	if err != nil {
		return nil, err
	}
	w.Order, w.Most = by.prefer.order(s.problem.Tubes), s.problem.MostPalettes
	if w.Most = cmp.Or(w.Most, defaultMostPalettes); by.prefer == Usual {
		w.Most = max(w.Most, mostCompared)
	}
	if s.hand != nil && w.Order.Weigh == nil {
		w.Order.Weigh = func(*cover.Rules, int) []int { return s.choice.Flaws }
	}
	if progress != nil {
		w.Watch = func(p choice.Progress) { progress(Progress(p)) }
	}
	if err := s.countOut(ctx, s.choice.Rules(w).Allowed); err != nil {
		return nil, err
	}
	c, d, err := s.choice.Decide(ctx, w)
	if err != nil && ctx.Err() != nil {
		err = ctx.Err()
	}
	if err != nil && (ctx.Err() == nil || by.whole || d == nil || len(d.Palettes) == 0) {
		return nil, err
	}
	if err == nil && by.prefer == Holds {
		if by.surest, err = s.surest(ctx, &by.limits, c, d); err != nil {
			return nil, err
		}
	}
	a := s.answer(ctx, c, d, by, w.Order)
	if a == nil {
		return nil, ctx.Err()
	}
	if err != nil {
		a.Minimum.Proof = Interrupted
		a.Minimum.AtLeast = max(1, d.Lower) // a box without a tube reaches nothing
	}
	if err == nil && len(a.Missed) > 0 {
		if err := s.trim(ctx, c, d, a); err != nil && ctx.Err() == nil {
			return nil, err
		}
	}
	if wrong := s.verify(a, &by.limits); wrong != nil {
		return nil, wrong
	}
	if by.whole && ctx.Err() != nil {
		return nil, ctx.Err()
	}
	return a, cmp.Or(err, ctx.Err())
}

// answer puts a decision into ids, colours, recipes and words. When the context
// ends, the best palette is mixed all the same, and others as far as there was time;
// where the whole was asked for, it is then nil.
func (s *Session) answer(ctx context.Context, c *choice.Core, d *choice.Decision, by *asked, order choice.Order) *Answer {
	always := 1
	if by.whole {
		always = 0
	}
	left := func() bool { return by.whole && ctx.Err() != nil }
	listed, tied, capped := d.Palettes, 0, false
	var ordered []ties
	switch {
	case by.prefer == Usual:
		tied, capped, ordered = s.usually(ctx, c, d)
		listed = make([]set.Set, len(ordered))
		for i := range ordered {
			listed[i] = ordered[i].palette
		}
	case by.surest != nil:
		rest := slices.DeleteFunc(slices.Clone(listed), by.surest.Equal)
		if most := s.problem.MostPalettes; most > 0 {
			rest = rest[:min(len(rest), most-1)]
		}
		listed = append([]set.Set{by.surest}, rest...)
	}
	palettes := s.palettes(ctx, c, listed, always, d.Rules, d.Unreachable)
	if left() {
		return nil
	}
	for i := range palettes[:min(len(palettes), len(ordered))] {
		palettes[i].glance = ordered[i].glance
	}
	a := &Answer{
		Limits:   by.limits,
		Status:   AllReached,
		Minimum:  Minimum{Tubes: d.Size, AtLeast: d.Size, Proof: s.proof()},
		Palettes: palettes,
		Needs:    s.needs(d.Needs),
		Stats:    Stats{Rounds: d.Rounds, Cuts: d.Cuts},
		Tied:     tied, TiedCapped: capped,
		behind: c,
	}
	s.count(a, d)
	all := by.limits.all()
	for _, i := range d.Conflict {
		a.Conflict = append(a.Conflict, all[i])
	}
	a.Capped = d.Capped || len(a.Palettes) < len(d.Palettes)
	ranked := a.Palettes
	if by.surest != nil {
		ranked = ranked[1:]
	}
	if by.prefer != Usual {
		s.rank(ranked, d, order)
	}
	best := &a.Palettes[0]
	held, _ := s.index.find("palette", best.Tubes)
	for _, t := range d.Unreachable {
		if left() {
			return nil
		}
		m := s.miss(ctx, t, s.alone(t, d.Rules.Allowed), d.Rules.Allowed, s.outside(&by.limits, d.Rules.Allowed))
		m.Beyond = true
		a.Unreachable = append(a.Unreachable, m)
	}
	for _, t := range d.Reachable {
		if o := &best.Targets[t]; !o.Reached {
			a.Missed = append(a.Missed, s.miss(ctx, t, gamut.Mix{Lab: o.Mix, DE: o.DE}, held, set.Minus(d.Rules.Allowed, held)))
		}
	}
	if len(a.Missed)+len(a.Unreachable) > 0 {
		a.Status = SomeMissed
	}
	for _, k := range c.Known {
		a.Stats.Searches += k.Searches
	}
	if left() {
		return nil
	}
	return a
}

// count says what is to buy, where fewest to buy were asked for.
func (s *Session) count(a *Answer, d *choice.Decision) {
	if !a.Limits.FewestToBuy {
		return
	}
	owned, _ := s.index.find("own", a.Limits.Own)
	for i := range a.Palettes {
		p := &a.Palettes[i]
		held, _ := s.index.find("palette", p.Tubes)
		p.Buy = s.index.ids(set.Intersection(held, s.index.toBuy(owned)))
	}
	if d.Rules.New != nil {
		most := d.Rules.NewMost
		a.Limits.toBuy = Spend(most)
		a.ToBuy, a.NeedsToBuy = &Minimum{Tubes: most, AtLeast: most, Proof: s.proof()}, s.needs(d.NewNeeds)
	}
}

// outside are the tubes that the limits do not allow, without those that are never
// to be used.
func (s *Session) outside(l *Limits, allowed set.Set) set.Set {
	never, _ := s.index.find("never", l.Never)
	return set.Minus(set.Minus(set.Full(len(s.index.tubes)), allowed), never)
}

func (s *Session) needs(needs []choice.Need) []Need {
	out := []Need{}
	for _, n := range needs {
		out = append(out, Need{Target: s.problem.Targets[n.Target].Name, OneOf: s.index.ids(n.OneOf), BestDE: n.Best, Proof: s.proof()})
	}
	return out
}

// rank puts the best palette first: by the sum the preference stands for, or
// by accuracy as favourite does, then by worst difference, mean difference and
// price. Palettes that are listed exactly in that order already, because there
// are more than are listed, keep the first place.
func (s *Session) rank(palettes []Palette, d *choice.Decision, order choice.Order) {
	key := func(p *Palette) [3]float64 {
		palette, _ := s.index.find("palette", p.Tubes)
		if order.Weigh == nil {
			return [3]float64{choice.AsGood(p.WorstDE), float64(cover.NewSum(s.choice.Flaws).Of(palette)), float64(p.Price)}
		}
		return [3]float64{float64(cover.NewSum(order.Weigh(d.Rules, d.Size)).Of(palette))}
	}
	slices.SortStableFunc(palettes, func(a, b Palette) int {
		x, y := key(&a), key(&b)
		return cmp.Or(
			slices.Compare(x[:], y[:]),
			portable.Compare(a.WorstDE, b.WorstDE, portable.Shown),
			portable.Compare(a.MeanDE, b.MeanDE, portable.Shown),
			cmp.Compare(a.Price, b.Price),
		)
	})
}

// trim says what tubes of the best palette are there for that bring no target
// within reach, where limits force misses, and mixes the smaller palette.
func (s *Session) trim(ctx context.Context, known *choice.Core, d *choice.Decision, a *Answer) error {
	best := &a.Palettes[0]
	if !slices.ContainsFunc(best.Targets, func(o Outcome) bool { return o.Reached }) {
		return nil // any tube would do as well
	}
	palette, _ := s.index.find("palette", best.Tubes)
	far := make([]float64, len(best.Targets))
	for t := range far {
		far[t] = best.Targets[t].DE
	}
	c := known.Copy() // what is learnt here is not for later answers
	idle, err := lessons.Idle(ctx, c, set.Minus(palette, d.Rules.Keep), palette, far)
	if err != nil {
		return err
	}
	for _, x := range idle {
		out := Superfluous{Tube: s.index.id(x.Tube), Brings: []Gain{}, Tubes: x.Without.Len(), Price: catalog.Cents(d.Rules.Weight(x.Without))}
		for _, g := range x.Brings {
			out.Brings = append(out.Brings, Gain{s.problem.Targets[g.Target].Name, colour.Hundredths(g.From), colour.Hundredths(g.To)})
		}
		a.Superfluous = append(a.Superfluous, out)
	}
	if d.Smaller != nil {
		a.Smaller = &s.palettes(ctx, c, []set.Set{d.Smaller}, 1, d.Rules, d.Unreachable)[0]
	}
	return ctx.Err()
}
