package solver

import (
	"cmp"
	"context"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

const (
	defaultMostPalettes = 24 // each takes a recipe per target, the dearest part of an answer
	defaultPartsTotal   = 20
)

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

// Session answers questions about a problem, whatever its limits. What it has
// worked out makes the next answer quicker and never another: an answer depends
// on the problem and its own question alone. It serves one goroutine at a time.
type Session struct {
	problem Problem
	box     *box
	mixing  *mixing
	oracle  *remembering
	grounds []*ground           // least recently used first
	recipes []*gamut.RecipeBook // per target; nil: not asked for yet
}

// NewSession prepares a problem for questions. Its limits and preference are
// not used: every question brings its own.
func NewSession(p Problem) (*Session, error) {
	if err := checkTargets(p.Targets); err != nil {
		return nil, err
	}
	if len(p.Tubes) == 0 {
		return nil, &InputError{"catalogue", "there is no tube", "name at least one"}
	}
	if p.Light == nil {
		p.Light = colour.D65()
	}
	p.Surface = cmp.Or(p.Surface, film.Dry)
	b, err := newBox(p.Tubes)
	if err != nil {
		return nil, err
	}
	m, err := newMixing(&p)
	if err != nil {
		return nil, err
	}
	p.PaintsPerMix = m.mixer.PaintsPerMix()
	p.MostPalettes = cmp.Or(p.MostPalettes, defaultMostPalettes)
	p.MaxPartsTotal = cmp.Or(p.MaxPartsTotal, defaultPartsTotal)
	return &Session{
		problem: p, box: b, mixing: m, oracle: newRemembering(m),
		recipes: make([]*gamut.RecipeBook, len(p.Targets)),
	}, nil
}

// Choose is as the function of that name, under the limits and preference given.
func (s *Session) Choose(ctx context.Context, limits Limits, prefer Preference, progress func(Progress)) (*Answer, error) {
	return s.choose(ctx, &wish{limits: limits, prefer: prefer, watch: progress})
}

// ChooseWhole is Choose for who is not there to see a part: when the context ends
// there is no answer, and no time goes into rounding one off.
func (s *Session) ChooseWhole(ctx context.Context, limits Limits, prefer Preference, progress func(Progress)) (*Answer, error) {
	return s.choose(ctx, &wish{limits: limits, prefer: prefer, watch: progress, whole: true})
}

func (s *Session) choose(ctx context.Context, w *wish) (*Answer, error) {
	w.prefer, w.most = cmp.Or(w.prefer, Accuracy), s.problem.MostPalettes
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	c, d, err := s.decide(ctx, w)
	if err != nil && ctx.Err() != nil {
		err = ctx.Err()
	}
	if err != nil && (ctx.Err() == nil || w.whole || d == nil || len(d.palettes) == 0) {
		return nil, err
	}
	a := s.answer(ctx, c, d, w)
	if a == nil {
		return nil, ctx.Err()
	}
	if err != nil {
		a.Minimum.Proof = Interrupted
		a.Minimum.AtLeast = d.lower
	}
	if err == nil && len(a.Missed) > 0 {
		if err := s.trim(ctx, c, d, a); err != nil && ctx.Err() == nil {
			return nil, err
		}
	}
	if wrong := s.verify(a, &w.limits); wrong != nil {
		return nil, wrong
	}
	if w.whole && ctx.Err() != nil {
		return nil, ctx.Err()
	}
	return a, cmp.Or(err, ctx.Err())
}

// answer puts a decision into ids, colours, recipes and words. When the context
// ends, the best palette is mixed all the same, others as far as it went; a wish
// for the whole of it then gets nil.
func (s *Session) answer(ctx context.Context, c *core, d *decision, w *wish) *Answer {
	always := 1
	if w.whole {
		always = 0
	}
	left := func() bool { return w.whole && ctx.Err() != nil }
	palettes := s.palettes(ctx, c, d.palettes, always, d.rules, d.unreachable)
	if left() {
		return nil
	}
	a := &Answer{
		Status:   AllReached,
		Minimum:  Minimum{Tubes: d.size, AtLeast: d.size, Proof: Searched},
		Palettes: palettes,
		Conflict: d.conflict,
		Needs:    s.needs(d),
		Stats:    Stats{Rounds: d.rounds, Cuts: d.cuts},
		behind:   c,
	}
	a.Capped = d.capped || len(a.Palettes) < len(d.palettes)
	s.rank(a.Palettes, d, w.prefer)
	best := &a.Palettes[0]
	held, _ := s.box.find("palette", best.Tubes)
	for _, t := range d.unreachable {
		if left() {
			return nil
		}
		m := s.miss(ctx, t, s.nearest(t, d.rules.allowed), d.rules.allowed, s.outside(&w.limits, d.rules.allowed))
		m.Beyond = true
		a.Unreachable = append(a.Unreachable, m)
	}
	for _, t := range d.reachable {
		if o := &best.Targets[t]; !o.Reached {
			a.Missed = append(a.Missed, s.miss(ctx, t, gamut.Mix{Lab: o.Mix, DE: o.DE}, held, set.Minus(d.rules.allowed, held)))
		}
	}
	if len(a.Missed)+len(a.Unreachable) > 0 {
		a.Status = SomeMissed
	}
	for _, k := range c.known {
		a.Stats.Searches += k.searches
	}
	if left() {
		return nil
	}
	return a
}

// outside are the tubes that the limits do not allow, but for those the painter
// said never to.
func (s *Session) outside(l *Limits, allowed set.Set) set.Set {
	never, _ := s.box.find("never", l.Never)
	return set.Minus(set.Minus(set.Full(len(s.box.tubes)), allowed), never)
}

func (s *Session) needs(d *decision) []Need {
	out := []Need{}
	for _, n := range d.needs {
		out = append(out, Need{Target: s.problem.Targets[n.target].Name, OneOf: s.box.ids(n.oneOf), BestDE: n.best, Proof: Searched})
	}
	return out
}

// rank puts the best palette first: by the sum the preference stands for, or
// by accuracy as favourite does, then by worst difference, mean difference and
// price. Palettes that are listed exactly in that order already, because there
// are more than are listed, keep the first place.
func (s *Session) rank(palettes []Palette, d *decision, prefer Preference) {
	weights := costs(prefer, s.box.tubes, d.rules, d.size)
	key := func(p *Palette) [3]float64 {
		set, _ := s.box.find("palette", p.Tubes)
		if weights == nil {
			flaws := &tubeSum{weights: drawbacks(s.box.tubes)}
			return [3]float64{asGood(p.WorstDE), float64(flaws.of(set)), float64(p.Price)}
		}
		return [3]float64{float64((&tubeSum{weights: weights}).of(set))}
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
