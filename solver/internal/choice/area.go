package choice

import (
	"cmp"
	"context"
	"math"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/reach"
)

// Area are many targets of which some may be missed: the cells of a picture, each with
// its weight. What is learnt of them serves later hunts.
type Area struct {
	Many    *reach.Many
	Weights []int // 0: not asked for
	Most    int   // weight missed at most

	known map[int]*reach.Known
	lost  []*Lost
}

// Lost is a set of tubes and cells that all of them together miss. A palette needs
// another tube, or loses these cells.
type Lost struct {
	tubes set.Set
	Cells []int
	sure  bool // searched at verdict effort

	OneOf set.Set // of the tubes allowed, those that are not in it
}

// weigh is the weight of some cells.
func (a *Area) weigh(cells []int) (sum int) {
	for _, c := range cells {
		sum += a.Weights[c]
	}
	return sum
}

// areaHunt is a hunt's demand that all of an area be reached but for so much. A nil one
// demands nothing.
type areaHunt struct {
	*Area
	h       *Hunt
	first   int // the cause of the first cell
	waivers *cover.Waivers
	cuts    map[*cover.Cut]*Lost
}

// over demands an area, too; the hunt has a cause for each of its cells.
func (h *Hunt) over(a *Area) {
	if a.known == nil {
		a.known = map[int]*reach.Known{}
	}
	first := len(h.known)
	h.area = &areaHunt{Area: a, h: h, first: first, cuts: map[*cover.Cut]*Lost{}}
	h.area.waivers = h.WaiveMany(append(make([]int, first), a.Weights...))
	for _, l := range a.lost {
		h.area.load(l)
	}
}

// load gives the cover a cut. Cells that weigh more than may be missed cannot be given
// up together.
func (a *areaHunt) load(l *Lost) {
	c := &cover.Cut{OneOf: set.Minus(a.h.rules.Allowed, l.tubes)}
	if a.weigh(l.Cells) <= a.Most {
		c.Cause, c.Waivable = a.waivers.Joint(), true
		for _, cell := range l.Cells {
			a.waivers.Join(c.Cause, a.first+cell)
		}
	}
	l.OneOf = c.OneOf
	a.h.loaded++
	a.h.Add(c)
	a.cuts[c] = l
}

// asked is a question with no more than so much missed.
func (a *areaHunt) asked(q cover.Question) cover.Question {
	if a == nil {
		return q
	}
	if l, always := a.waivers.AtMost(a.Most); !always {
		q.On = append(slices.Clone(q.On), l)
	}
	return q
}

const (
	toldAtOnce   = 2 // cells of which it is told why they are missed in a round
	enoughMissed = 4 // times what may be missed: then no more is looked for
	someCells    = 32
	spareOne     = 4 // of so many cells that cannot be given up one may be reached after all
)

// separate looks for cuts that the palette does not hit. It is done when no more is
// missed than may be.
func (a *areaHunt) separate(ctx context.Context, palette set.Set, waived []bool) (done bool, err error) {
	for a != nil {
		missed, err := a.Many.Missed(ctx, palette, a.Weights, enoughMissed*a.Most)
		if err != nil {
			return false, err
		}
		weight := 0
		for _, m := range missed {
			weight += a.Weights[m.Target]
		}
		if weight <= a.Most {
			return true, nil
		}
		if found, err := a.explain(ctx, palette, missed, waived); found || err != nil {
			return false, err
		}
	}
	return true, nil
}

// explain finds cuts behind some of the cells missed that are not given up; none where
// a thorough search reaches those after all.
func (a *areaHunt) explain(ctx context.Context, palette set.Set, missed []reach.Missed, waived []bool) (found bool, err error) {
	cells := a.telling(missed, waived)
	type told struct {
		failing reach.Failing
		missing bool
		err     error
	}
	said := make([]told, len(cells))
	for _, c := range cells {
		if a.known[c] == nil {
			a.known[c] = a.Many.Known(c)
		}
	}
	parallel.Each(len(cells), func(i int) {
		k, tolerance := a.known[cells[i]], a.Many.Tolerance()
		if !k.Reaches(palette, tolerance, gamut.Search) {
			said[i].failing, said[i].missing, said[i].err = k.Grow(ctx, palette, a.h.rules.Allowed, tolerance)
		}
	})
	for i, cell := range cells {
		switch t := &said[i]; {
		case t.err != nil:
			return found, t.err
		case t.missing:
			if err := a.cut(ctx, t.failing.Set, cell, missed); err != nil {
				return found, err
			}
			found = true
		default:
			a.Many.Learn(cell, a.known[cell].BestKnown(palette))
		}
	}
	return found, nil
}

// telling are cells that are not given up, each the heaviest of its group, of the groups
// of which most is missed.
func (a *areaHunt) telling(missed []reach.Missed, waived []bool) (cells []int) {
	heaviest, weight := map[int]int{}, map[int]int{}
	var groups []int
	for _, m := range missed {
		c := m.Target
		if waived[a.first+c] {
			continue
		}
		g := a.Many.Group(c)
		best, seen := heaviest[g]
		if !seen {
			groups = append(groups, g)
		}
		if weight[g] += a.Weights[c]; !seen || a.Weights[c] > a.Weights[best] {
			heaviest[g] = c
		}
	}
	slices.SortFunc(groups, func(g, h int) int { return cmp.Or(cmp.Compare(weight[h], weight[g]), cmp.Compare(g, h)) })
	for _, g := range groups[:min(len(groups), toldAtOnce)] {
		cells = append(cells, heaviest[g])
	}
	return cells
}

// cut keeps a set of tubes that misses a cell, with other cells missed that it misses,
// too, until they weigh clearly more than may be given up: those first that are like it
// and farther out.
func (a *areaHunt) cut(ctx context.Context, tubes set.Set, cell int, missed []reach.Missed) error {
	l := &Lost{tubes: tubes, Cells: []int{cell}}
	apart := map[int]float64{}
	var others []int
	for _, m := range missed {
		if c := m.Target; c != cell {
			others, apart[c] = append(others, c), colour.DE2000(a.Many.Lab(c), a.Many.Lab(cell))
			if !math.IsInf(m.DE, 1) {
				apart[c] -= m.DE
			}
		}
	}
	slices.SortStableFunc(others, func(i, j int) int { return portable.Compare(apart[i], apart[j], portable.Fine) })
	enough := a.Most + a.Most/spareOne
	for weight := a.Weights[cell]; len(others) > 0 && weight <= enough; {
		n := min(len(others), someCells)
		var asked []reach.Asked
		for _, c := range others[:n] {
			asked = append(asked, reach.Asked{Target: c, Tubes: tubes})
		}
		reached, err := a.Many.Reach(ctx, asked)
		if err != nil {
			return err
		}
		for i, c := range others[:n] {
			if !reached[i] && weight <= enough {
				l.Cells, weight = append(l.Cells, c), weight+a.Weights[c]
			}
		}
		others = others[n:]
	}
	a.lost = append(a.lost, l)
	a.load(l)
	return nil
}

// ensure searches the cuts behind a failure at verdict effort.
func (a *areaHunt) ensure(ctx context.Context) error {
	if a == nil {
		return nil
	}
	var asked []reach.Asked
	var of []*Lost
	for _, c := range a.h.Why() {
		if l := a.cuts[c]; l != nil && !l.sure {
			of = append(of, l)
			for _, cell := range l.Cells {
				asked = append(asked, reach.Asked{Target: cell, Tubes: l.tubes})
			}
		}
	}
	reached, err := a.Many.Ensured(ctx, asked)
	if err != nil {
		return err
	}
	revoked := false
	for _, l := range of {
		n := len(l.Cells)
		var kept []int
		for i, cell := range l.Cells {
			if !reached[i] {
				kept = append(kept, cell)
			} else {
				delete(a.known, cell)
			}
		}
		revoked = revoked || len(kept) < n && a.weigh(kept) <= a.Most
		l.Cells, l.sure, reached = kept, true, reached[n:]
	}
	if revoked {
		a.lost = slices.DeleteFunc(a.lost, func(l *Lost) bool { return len(l.Cells) == 0 })
		return errRevoked
	}
	return nil
}

// Spread is a choice of palettes that reach every target and an area.
type Spread struct {
	*Decision         // its needs are those of targets
	Behind    []*Lost // with them, what the minimum rests on
}

// DecideArea chooses by a wish as decide does, with an area besides. Where the limits
// rule that out there is no palette, and Conflict is not told.
func (s *Stakes) DecideArea(ctx context.Context, w *Wish, a *Area) (*Spread, error) {
	c := s.Blank()
	var out *Spread
	err := Retry(func() (err error) {
		out, err = c.attemptArea(ctx, w, a)
		return err
	})
	return out, err
}

func (c *Core) attemptArea(ctx context.Context, w *Wish, a *Area) (*Spread, error) {
	d := &Decision{Rules: c.Rules(w)}
	var err error
	if d.Reachable, d.Unreachable, err = c.Reachable(ctx, d.Rules.Allowed); err != nil {
		return nil, err
	}
	h := c.hunt(d.Rules, len(a.Weights))
	h.demand(&Demand{targets: d.Reachable, tolerance: c.Tolerance})
	h.over(a)
	out := &Spread{Decision: d}
	smallest, _, err := h.smallest(ctx, &sighting{c: c, h: h, rules: h.rules, d: d})
	switch {
	case err != nil:
		return nil, err
	case smallest == nil:
		out.Behind, d.Needs = h.area.behind(), h.needsBehind()
		return out, nil
	}
	d.reached, d.Size = true, smallest.Len()
	if err := h.listBy(ctx, d, w.Most, cover.Question{Size: d.Size, On: []cover.Switch{h.Switch()}, Unsure: true}, cover.NewSum(w.Order.Weigh(d.Rules, d.Size))); err != nil {
		return nil, err
	}
	if d.Size > 0 {
		if _, found, err := h.find(ctx, cover.Question{Size: d.Size - 1}); err != nil || found != cover.Failed {
			return nil, cmp.Or(err, errNoProgress)
		}
		out.Behind, d.Needs = h.area.behind(), h.needsBehind()
	}
	d.Rounds, d.Cuts = h.rounds, h.loaded
	return out, nil
}

// needsBehind are the cuts of targets behind the last failure.
func (h *Hunt) needsBehind() (out []Need) {
	why := h.Why()
	for _, c := range h.cuts {
		if slices.Contains(why, c.Cut) {
			out = append(out, Need{c.target, c.failing, c.OneOf, h.known[c.target].Failings[c.failing].Best})
		}
	}
	return out
}

// behind are the cuts of the last failure.
func (a *areaHunt) behind() (out []*Lost) {
	for _, c := range a.h.Why() {
		if l := a.cuts[c]; l != nil {
			out = append(out, l)
		}
	}
	return out
}
