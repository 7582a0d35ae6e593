package recipe

import (
	"cmp"
	"context"
	"math"
	"math/bits"
	"slices"
	"sync"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/kernel"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
)

// Hand bounds the recipes of a palette that is to be mixed by hand: tubes and touches
// of up to three paints and one white.
type Hand struct {
	Whites set.Set // places of the whites among the paints
	LetsIn bool    // one paint of a recipe may be let down, one in ten of its white
}

// besideWhite is the most paints of a hand's recipe besides its white.
const besideWhite = 3

// letDownByHand is the ratio in which a hand lets a tube down: the usual one.
var letDownByHand = Ratios[0]

// ByHand knows of some colours which tubes mix them by hand, within the tolerance:
// all recipes are counted out once for every set of tubes. More tubes never hurt. It
// is safe for concurrent use, and its answers do not depend on what was asked before.
type ByHand struct {
	k     *Kitchen
	goals []goal
	mixer *gamut.Mixer // of the tubes in free amounts
	where *whereabouts

	mu      sync.Mutex
	counted []set.Set // palettes whose recipes are counted out
	known   map[support]marks
	served  [][]serves          // per goal; the sets without one that serves already, in order
	bounds  []map[support]bound // per goal
}

// serves is a recipe that serves a goal.
type serves struct {
	set      ingredients
	division int
	de       float64
}

// NewByHand lays out tubes for mixing by hand. It refuses what NewKitchen refuses.
func NewByHand(paints []film.Paint, opt gamut.Options, limits Limits, targets []Target) (*ByHand, error) {
	mixer, err := gamut.NewMixer(paints, opt)
	if err != nil {
		return nil, err
	}
	k, err := layOut(paints, limits.Hand.piles(paints), opt, limits)
	if err != nil {
		return nil, err
	}
	h := &ByHand{k: k, mixer: mixer, known: map[support]marks{}, served: make([][]serves, len(targets)), bounds: make([]map[support]bound, len(targets))}
	for i := range targets {
		h.goals = append(h.goals, newGoal(i, &targets[i]))
	}
	h.where = newWhereabouts(h.goals)
	return h, nil
}

// piles are what a hand lets down.
func (h *Hand) piles(paints []film.Paint) []Ingredient {
	if !h.LetsIn {
		return nil
	}
	return slices.DeleteFunc(pilesOf(paints), func(in Ingredient) bool {
		return in.Ratio != letDownByHand || !h.Whites.Has(in.Into) || h.Whites.Has(in.Paint)
	})
}

// mixes reports whether a hand mixes paints together; without a Hand any do.
func (h *Hand) mixes(paints []int16) bool {
	if h == nil {
		return true
	}
	whites := 0
	for _, p := range paints {
		if h.Whites.Has(int(p)) {
			whites++
		}
	}
	return whites <= 1 && len(paints)-whites <= besideWhite
}

// CountOut counts out all recipes of a palette, so that what is asked of it and of
// parts of it is answered at once. The error is the context's.
func (h *ByHand) CountOut(ctx context.Context, palette set.Set) error {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.isCounted(palette.SubsetOf) {
		return nil
	}
	var tubes []int16
	for _, p := range palette.Members() {
		tubes = append(tubes, int16(p))
	}
	for n := 1; n <= h.k.most; n++ {
		var fresh []support
		subsets(tubes, n, func(chosen []int16) {
			if h.k.limits.Hand.mixes(chosen) && !h.isCounted(func(s set.Set) bool { return holdsAll(s, chosen) }) {
				fresh = append(fresh, supportOf(chosen))
			}
		})
		if err := h.count(ctx, fresh); err != nil {
			return err
		}
	}
	h.counted = append(h.counted, palette.Clone())
	return nil
}

func (h *ByHand) isCounted(within func(set.Set) bool) bool {
	return slices.ContainsFunc(h.counted, within)
}

func holdsAll(s set.Set, paints []int16) bool {
	for _, p := range paints {
		if !s.Has(int(p)) {
			return false
		}
	}
	return true
}

// count counts out sets of paints, all of one number, those of fewer known.
func (h *ByHand) count(ctx context.Context, paints []support) error {
	var all []*hand
	parallel.EachOf(len(paints), func() func(int) {
		v := &hand{h: h, counter: counter{k: h.k, meter: h.k.mixer.Meter()}, found: map[int][]serves{}}
		all = append(all, v)
		return func(at int) {
			if ctx.Err() == nil {
				v.serve(paints[at])
			}
		}
	})
	if err := ctx.Err(); err != nil {
		return err
	}
	changed := map[int]bool{}
	for _, v := range all {
		for g, some := range v.found {
			changed[g] = true
			h.served[g] = append(h.served[g], some...)
			for i := range some {
				s := some[i].set.paints
				if h.known[s] == nil {
					h.known[s] = newMarks(len(h.goals))
				}
				h.known[s].add(g)
			}
		}
	}
	for g := range changed {
		slices.SortFunc(h.served[g], func(a, b serves) int {
			return cmp.Or(cmp.Compare(len(a.set.paints.list()), len(b.set.paints.list())), slices.Compare(a.set.paints[:], b.set.paints[:]))
		})
	}
	return nil
}

// hand counts out recipes on one processor.
type hand struct {
	h *ByHand
	counter
	about []int            // places in them of colours that are worth a look
	found map[int][]serves // per goal
}

// setsOf are the sets of ingredients that a hand makes of some paints.
func (h *ByHand) setsOf(paints support) []ingredients {
	sets := []ingredients{paints.straight()}
	if h.k.limits.Hand.LetsIn {
		for _, s := range h.k.setsOf(paints, 1, h.k.pilesAmong(paints)) {
			s.firm = 1 << s.tubes // nobody lets down a tube for a touch of it
			sets = append(sets, s)
		}
	}
	return sets
}

// pilesAmong are the piles made of paints of a set alone, ascending.
func (k *Kitchen) pilesAmong(paints support) (out []int16) {
	list := paints.list()
	for p := k.tubes; p < len(k.ingredients); p++ {
		if in := k.ingredients[p]; slices.Contains(list, int16(in.Paint)) && slices.Contains(list, int16(in.Into)) {
			out = append(out, int16(p))
		}
	}
	return out
}

// serve finds the goals that some paints serve and no fewer of them.
func (v *hand) serve(paints support) {
	open := newMarks(len(v.h.goals))
	for g := range v.h.goals {
		open.add(g)
	}
	tubes := paints.list()
	for n := 1; n < len(tubes); n++ {
		subsets(tubes, n, func(some []int16) { open.drop(v.h.known[supportOf(some)]) })
	}
	for _, s := range v.h.setsOf(paints) {
		if open.count() == 0 {
			return
		}
		v.look(&s, open)
	}
}

// look takes from the open goals those that a set serves, each by the recipe of
// the fewest parts.
func (v *hand) look(s *ingredients, open marks) {
	list := v.divisions(s)
	v.about = v.h.where.about(v.about[:0], v.labs, open)
	for _, i := range v.about {
		if i >= len(list) || list[i].touches&s.firm != 0 {
			continue
		}
		spot := spotOf(kernel.Of(v.labs, i))
		near := v.h.where.near(spot)
		for w := range open {
			for both := open[w] & near[w]; both != 0; both &= both - 1 {
				g := w*64 + bits.TrailingZeros64(both)
				if !v.h.where.nearer(g, spot) {
					continue
				}
				r := counted{set: s, division: &list[i], lab: v.lab(&list[i])}
				if v.serves(&r, &v.h.goals[g]) {
					open[w] &^= both & -both
					v.found[g] = append(v.found[g], serves{*s, i, colour.DE2000(r.lab, v.h.goals[g].lab)})
				}
			}
		}
	}
}

// divisions sketches all divisions of a set.
func (v *hand) divisions(s *ingredients) []division {
	v.items = s.items(v.items)
	v.sketch(v.k.volumes[s.n])
	return v.k.divisions[s.n]
}

// Least lists the least sets of tubes of a palette that mix a target by hand: of a
// set that holds another, only that other is listed. Each is ascending, and those of
// few tubes come first. The error is the context's.
func (h *ByHand) Least(ctx context.Context, target int, palette set.Set) (out [][]int, err error) {
	if err := h.CountOut(ctx, palette); err != nil {
		return nil, err
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	for i := range h.served[target] {
		if s := &h.served[target][i].set; holdsAll(palette, s.paints.list()) {
			tubes := make([]int, 0, mostIngredients)
			for _, p := range s.paints.list() {
				tubes = append(tubes, int(p))
			}
			out = append(out, tubes)
		}
	}
	return out, nil
}

// Serves is a mix of a palette by hand that comes within the tolerance of a target,
// of the fewest tubes.
func (h *ByHand) Serves(ctx context.Context, target int, palette set.Set) (gamut.Mix, bool) {
	if h.CountOut(ctx, palette) != nil {
		return gamut.Mix{DE: math.Inf(1)}, false
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	for i := range h.served[target] {
		if s := &h.served[target][i]; holdsAll(palette, s.set.paints.list()) {
			return h.mix(s, target), true
		}
	}
	return gamut.Mix{DE: math.Inf(1)}, false
}

// mix is a recipe as shares of tubes.
func (h *ByHand) mix(s *serves, target int) gamut.Mix {
	d := &h.k.divisions[s.set.n][s.division]
	shares := map[int]float64{}
	for i, item := range s.set.items(nil) {
		in, share := h.k.ingredients[item], float64(d.quarters[i])/float64(d.total)
		strong := share / float64(in.Ratio+1)
		shares[in.Paint] += strong
		if in.LetDown() {
			shares[in.Into] += share - strong
		}
	}
	var out gamut.Mix
	for _, p := range s.set.paints.list() {
		out.Paints, out.Shares = append(out.Paints, int(p)), append(out.Shares, shares[int(p)])
	}
	out.Lab = h.mixer.Evaluate(out.Paints, out.Shares)
	out.DE = colour.DE2000(out.Lab, h.goals[target].lab)
	return out
}

// Nearest is the nearest mix of a palette by hand to a target: where some come
// within the tolerance of these, else in whole parts. Of more than twelve tubes that
// serve nothing it looks at those that the nearest free mixes take.
func (h *ByHand) Nearest(target int, palette set.Set) gamut.Mix {
	if palette.Len() == 0 {
		return gamut.Mix{DE: math.Inf(1)}
	}
	v := &hand{h: h, counter: counter{k: h.k, meter: h.k.mixer.Meter()}}
	if palette.Len() > mostTubes {
		if mix, ok := h.Serves(context.Background(), target, palette); ok {
			return mix
		}
		palette = set.Of(h.k.tubes, mostUsed(usesOf(h.mixer, h.goals[target].lab, palette), mostTubes)...)
	}
	var tubes []int16
	for _, p := range palette.Members() {
		tubes = append(tubes, int16(p))
	}
	n := nearer{goal: h.goals[target], tolerance: h.goals[target].limit}
	n.goal.within(math.Inf(1))
	for size := 1; size <= h.k.most; size++ {
		subsets(tubes, size, func(chosen []int16) {
			if h.k.limits.Hand.mixes(chosen) {
				v.nearOf(supportOf(chosen), target, &n)
			}
		})
	}
	return h.mix(&n.best, target)
}

// nearer is the nearest recipe so far.
type nearer struct {
	goal      goal // its limit is the difference of the best
	tolerance float64
	best      serves
}

// bound is what is known of how near some paints come to a goal: by the recipe, or,
// without one, no nearer than its difference.
type bound struct {
	serves
	known bool
}

// nearOf looks for a nearer recipe of some paints, unless what was found of them before
// tells: palettes that differ by a tube share most of their sets.
func (v *hand) nearOf(paints support, target int, n *nearer) {
	v.h.mu.Lock()
	b := v.h.bounds[target][paints]
	v.h.mu.Unlock()
	switch {
	case b.known && b.set.n > 0 && b.de < n.goal.limit:
		n.best = b.serves
		n.goal.within(b.de)
		return
	case b.known && (b.set.n > 0 || b.de >= n.goal.limit):
		return
	}
	b = bound{known: true, serves: serves{de: n.goal.limit}}
	for _, s := range v.h.setsOf(paints) {
		v.near(&s, n)
	}
	if n.goal.limit < b.de {
		b.serves = n.best
	}
	v.h.mu.Lock()
	defer v.h.mu.Unlock()
	if v.h.bounds[target] == nil || len(v.h.bounds[target]) >= mostBounds {
		v.h.bounds[target] = map[support]bound{}
	}
	v.h.bounds[target][paints] = b
}

// mostBounds is how many are kept for a goal, some 60 bytes each.
const mostBounds = 50_000

// near looks for a nearer recipe of a set. Touches that are not steady, or serve
// nothing, are no recipe.
func (v *hand) near(s *ingredients, n *nearer) {
	list := v.divisions(s)
	for i := range list {
		g := &n.goal
		if !g.inSight(kernel.Of(v.labs, i)) {
			continue
		}
		d := &list[i]
		if d.touches&s.firm != 0 {
			continue
		}
		de, ok := g.difference(v.lab(d))
		if !ok || de == g.limit || d.touches != 0 && (de > n.tolerance || !v.steady(d, g)) {
			continue
		}
		n.best = serves{*s, i, de}
		g.within(de)
	}
}
