package solver

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/parallel"
)

// A need often says more than the minimum asks of it: its failing set is grown as
// large as it gets, and comes as near as it can. The palettes that the other
// needs leave open lie in a part of it. That part is farther off, and a cone of
// fewer paints, so where a need is narrow or its proof was given up the part is
// certified in its place. Others are left as they are, since a need with few
// tubes tells a painter more.

const (
	narrowly = 0.3 // CIEDE2000 to spare below which a need is made to ask less from the first
	amply    = 1.0 // to spare with which it is left at that
)

// weakening makes the needs of an answer ask less, one by one, as far as no
// smaller palette meets all of them.
type weakening struct {
	*prover
	rules   *cover.Rules
	allowed set.Set
	size    int       // no palette of so many tubes meets all needs
	target  []int     // per need
	first   []set.Set // per need: the tubes one of which it asked for at first
	now     []set.Set // now
}

func newWeakening(p *prover, r *cover.Rules, a *Answer) (*weakening, error) {
	w := &weakening{prover: p, rules: r, allowed: r.Allowed, size: a.Minimum.Tubes - 1}
	for _, n := range a.Needs {
		oneOf, err := p.s.index.find("need", n.OneOf)
		if err != nil {
			return nil, err
		}
		w.target, w.first, w.now = append(w.target, p.s.targetIndex(n.Target)), append(w.first, oneOf), append(w.now, oneOf)
	}
	return w, nil
}

// apply puts a need as it stands now in the answer and in its claim.
func (w *weakening) apply(i int, c *claim, n *Need) {
	c.target, c.tubes = w.target[i], set.Minus(w.allowed, w.now[i])
	if !w.now[i].SubsetOf(w.first[i]) {
		n.OneOf, n.BestDE = w.s.index.ids(w.now[i]), w.s.choice.Oracle.Closest(c.target, c.tubes, gamut.Verdict).DE
	}
	c.without = n.OneOf
}

// narrowOnes weakens the needs that are narrow, the narrowest first.
func (w *weakening) narrowOnes() error {
	margin := make([]float64, len(w.now))
	parallel.Each(len(margin), func(i int) {
		if w.ctx.Err() == nil {
			_, margin[i] = w.spare(i, set.Minus(w.allowed, w.now[i]))
		}
	})
	for _, i := range sortedBy(margin) {
		if margin[i] < narrowly && w.ctx.Err() == nil {
			w.weaken(i, 0)
		}
	}
	return w.ctx.Err()
}

func sortedBy(key []float64) []int {
	at := set.Full(len(key)).Members()
	slices.SortStableFunc(at, func(i, j int) int { return portable.Compare(key[i], key[j], portable.Fine) })
	return at
}

// spare is how far beyond the tolerance of a need's target the nearest mix of any
// number of some tubes lies.
func (w *weakening) spare(i int, tubes set.Set) (gamut.Mix, float64) {
	near := w.nearest(w.target[i], tubes)
	return near, near.DE - w.s.problem.Targets[w.target[i]].Tolerance
}

// canAskForLess reports whether some tube can be taken out of a failing set.
func (w *weakening) canAskForLess(i int) bool {
	l := w.lessening(i)
	return l.stands(l.failing) && slices.ContainsFunc(l.rest(), func(tube int) bool {
		without := l.failing.Clone()
		without.Remove(tube)
		return l.stands(without)
	})
}

// weaken starts over from what a need asked for at first and takes tubes out of
// its failing set in the given order: those of the nearest mix while it is not
// ample, and where the need stays narrow or another order was tried before, also
// those that no nearest mix holds.
func (w *weakening) weaken(i int, order uint64) {
	l := w.lessening(i)
	if len(l.rest()) == 0 || !l.stands(l.failing) {
		return // there is nothing to take out, or the proof rests on more than needs
	}
	place := make([]int, len(w.s.index.tubes))
	for at, tube := range rand.New(rand.NewPCG(order, 0)).Perm(len(place)) {
		place[tube] = at
	}
	inOrder := func(a, b int) int { return cmp.Compare(place[a], place[b]) }
	margin := l.widen(inOrder)
	if order > 0 || margin < narrowly {
		rest := l.rest()
		slices.SortFunc(rest, inOrder)
		l.takeOut(rest)
	}
	if w.ctx.Err() == nil {
		w.now[i] = set.Minus(w.allowed, l.failing)
	}
}

// lessening is one need while tubes are taken out of its failing set.
type lessening struct {
	*weakening
	need    int
	failing set.Set
	stays   set.Set // tubes that cannot be taken out
}

// lessening starts from what a need asked for at first.
func (w *weakening) lessening(i int) *lessening {
	return &lessening{weakening: w, need: i, failing: set.Minus(w.allowed, w.first[i]), stays: set.New(len(w.s.index.tubes))}
}

// stands reports whether the needs prove the minimum with this failing set.
func (l *lessening) stands(failing set.Set) bool {
	asked := slices.Clone(l.now)
	asked[l.need] = set.Minus(l.allowed, failing)
	_, out := cover.Refute(l.ctx, l.rules, len(l.s.index.tubes), asked, l.size, cover.MostSteps)
	return out == cover.Failed
}

// widen takes out tubes of the nearest mix as long as it helps, and returns the
// margin.
func (l *lessening) widen(inOrder func(a, b int) int) float64 {
	for {
		near, margin := l.spare(l.need, l.failing)
		left := slices.DeleteFunc(slices.Clone(near.Paints), l.stays.Has)
		if margin >= amply || len(left) == 0 || l.ctx.Err() != nil {
			return margin
		}
		l.takeOut([]int{slices.MinFunc(left, inOrder)})
	}
}

// rest are the tubes that were not yet asked about.
func (l *lessening) rest() []int { return set.Minus(l.failing, l.stays).Members() }

// takeOut takes out all of a group that can be spared.
func (l *lessening) takeOut(group []int) {
	if len(group) == 0 || l.ctx.Err() != nil {
		return
	}
	without := l.failing.Clone()
	for _, i := range group {
		without.Remove(i)
	}
	switch {
	case l.stands(without):
		l.failing = without
	case len(group) == 1:
		l.stays.Add(group[0])
	default:
		half := len(group) / 2
		l.takeOut(group[:half])
		l.takeOut(group[half:])
	}
}

// sorted puts the needs of an answer in order again: by target, then by tubes.
func (w *weakening) sorted(a *Answer) {
	at := set.Full(len(a.Needs)).Members()
	slices.SortStableFunc(at, func(i, j int) int {
		return cmp.Or(cmp.Compare(w.target[i], w.target[j]), slices.Compare(w.now[i].Members(), w.now[j].Members()))
	})
	needs := slices.Clone(a.Needs)
	for to, from := range at {
		a.Needs[to] = needs[from]
	}
}
