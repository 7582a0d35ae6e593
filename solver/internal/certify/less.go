package certify

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
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

// orders are how often at most a need is made to ask for less because its proof
// was given up; each takes a part of the budget.
const (
	orders = 2
	share  = 4
)

// weakening makes needs ask for less, one by one, as far as no smaller palette
// meets all of them.
type weakening struct {
	*prover
	rules   *cover.Rules
	allowed set.Set
	size    int       // no palette of so many tubes meets all needs
	claims  []*Claim  // per need
	first   []set.Set // per need: the tubes one of which it asked for at first
	now     []set.Set // now
}

func newWeakening(p *prover, r *cover.Rules, size int, needs []choice.Need) *weakening {
	w := &weakening{prover: p, rules: r, allowed: r.Allowed, size: size - 1}
	for _, n := range needs {
		c := p.claim(n.Target, nil)
		c.OneOf, c.BestDE = n.OneOf, n.Best
		w.claims, w.first, w.now = append(w.claims, c), append(w.first, n.OneOf), append(w.now, n.OneOf)
	}
	return w
}

// prove proves the needs and what else is claimed.
func (w *weakening) prove(also []*Claim) error {
	for i, c := range w.claims {
		if w.canAskForLess(i) {
			c.cells -= orders * (w.cells / share)
		}
		w.apply(i)
	}
	err := w.prover.prove(slices.Concat(w.claims, also))
	for order := range uint64(orders) {
		var again []*Claim
		for i, c := range w.claims {
			if err != nil || c.Certified || c.hopeless || w.cells < share {
				continue
			}
			w.weaken(i, order+1)
			switch w.apply(i); {
			case !c.tried():
				c.cells = w.cells / share
			case order == orders-1 && len(c.before) == 1 && c.cells < w.cells:
				c.cells = w.cells // it cannot ask for less after all
			default:
				continue
			}
			again = append(again, c)
		}
		err = cmp.Or(err, w.ctx.Err(), w.prover.prove(again))
	}
	return err
}

// apply puts a need as it stands now in its claim.
func (w *weakening) apply(i int) {
	c := w.claims[i]
	c.tubes = set.Minus(w.allowed, w.now[i])
	if !w.now[i].SubsetOf(w.first[i]) {
		c.OneOf, c.BestDE = w.now[i], w.Oracle.Closest(c.Target, c.tubes, gamut.Verdict).DE
	}
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
	near := w.nearest(w.claims[i].Target, tubes)
	return near, near.DE - w.Tolerance[w.claims[i].Target]
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
	place := make([]int, w.Tubes)
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
	return &lessening{weakening: w, need: i, failing: set.Minus(w.allowed, w.first[i]), stays: set.New(w.Tubes)}
}

// stands reports whether the needs prove the minimum with this failing set.
func (l *lessening) stands(failing set.Set) bool {
	asked := slices.Clone(l.now)
	asked[l.need] = set.Minus(l.allowed, failing)
	refuter := cover.New(l.rules, l.Tubes, 1, &l.Uses).Refuter(asked, l.size)
	_, out := refuter.Refute(l.ctx, set.Full(len(asked)).Members(), cover.MostSteps)
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
