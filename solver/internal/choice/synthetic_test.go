package choice

import (
	"context"
	"math"
	"slices"
	"testing"

	"fewtubes/gamut"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"

	"pgregory.net/rapid"
)

// families is an oracle made of supports: a palette comes as near to a target
// as the nearest support it holds. It is monotone by construction.
type families struct {
	n        int
	supports [][]gamut.Mix // per target; every tube alone is one
	blind    bool          // lists, quick and search overlook every third support
	lists    bool          // sets are listed
}

func (f *families) Within(t int, palette set.Set, tolerance float64, e gamut.Effort) (gamut.Mix, bool) {
	mix := f.Closest(t, palette, e)
	return mix, mix.DE <= tolerance
}

func (f *families) Closest(t int, palette set.Set, e gamut.Effort) gamut.Mix {
	best := gamut.Mix{DE: math.Inf(1)}
	for i, m := range f.supports[t] {
		if f.blind && e != gamut.Verdict && i%3 == 2 {
			continue
		}
		if m.DE < best.DE && set.Of(f.n, m.Paints...).SubsetOf(palette) {
			best = m
		}
	}
	if len(best.Paints) == 0 {
		return best
	}
	return shared(best)
}

func (f *families) WithinBy(t int, palette set.Set, _ []int, tolerance float64) (gamut.Mix, bool) {
	return f.Within(t, palette, tolerance, gamut.Quick)
}

func (f *families) Swap(t int, mix *gamut.Mix, out, in int) gamut.Mix {
	paints := set.Of(f.n, mix.Paints...)
	paints.Remove(out)
	paints.Add(in)
	return f.Closest(t, paints, gamut.Quick)
}

// Alike has no likeness to go by.
func (f *families) Alike(tube int) []int {
	return slices.DeleteFunc(set.Full(f.n).Members(), func(i int) bool { return i == tube })
}

// Pulls are by how much a tube more brings a mix nearer, less a little.
func (f *families) Pulls(t int, mix *gamut.Mix) []float64 {
	const little = 1e-6
	with := set.Of(f.n, mix.Paints...)
	at := min(1000, f.Closest(t, with, gamut.Quick).DE)
	out := make([]float64, f.n)
	for i := range out {
		more := with.Clone()
		more.Add(i)
		out[i] = at - min(1000, f.Closest(t, more, gamut.Quick).DE) - little
	}
	return out
}

func (f *families) PullsWithout(t int, mix *gamut.Mix, tube int) []float64 {
	rest := slices.DeleteFunc(slices.Clone(mix.Paints), func(i int) bool { return i == tube })
	return f.Pulls(t, &gamut.Mix{Paints: rest})
}

func (f *families) Lists() bool { return f.lists }

func (f *families) Brings(t int, palette set.Set, tube int, tolerance float64) bool {
	with := palette.Clone()
	with.Add(tube)
	return f.listed(t, with, tolerance, func(m gamut.Mix) bool { return slices.Contains(m.Paints, tube) }) > 0
}

func (f *families) Promise(_ context.Context, t int, domain set.Set, tolerance float64) ([]int, error) {
	out := make([]int, f.n)
	for i := range out {
		out[i] = f.listed(t, domain, tolerance, func(m gamut.Mix) bool { return slices.Contains(m.Paints, i) })
	}
	return out, nil
}

// listed counts the mixes of a domain that are listed as within a tolerance.
func (f *families) listed(t int, domain set.Set, tolerance float64, which func(m gamut.Mix) bool) (n int) {
	for i, m := range f.supports[t] {
		if m.DE <= tolerance && set.Of(f.n, m.Paints...).SubsetOf(domain) && !(f.blind && i%3 == 2) && which(m) {
			n++
		}
	}
	return n
}

func (f *families) Listed(t int, palette set.Set, tolerance float64) (gamut.Mix, bool) {
	return f.Within(t, palette, tolerance, gamut.Quick)
}

// shared gives each paint the same share.
func shared(m gamut.Mix) gamut.Mix {
	m.Shares = slices.Repeat([]float64{1 / float64(len(m.Paints))}, len(m.Paints))
	return m
}

// distance is the truth.
func (f *families) distance(t int, palette set.Set) float64 {
	if palette.Len() == 0 {
		return math.Inf(1)
	}
	return f.Closest(t, palette, gamut.Verdict).DE
}

// fakeCase is a choice over a fake oracle.
type fakeCase struct {
	*Stakes
	o    *families
	wish Wish
}

func drawCase(t *rapid.T) *fakeCase {
	n := rapid.IntRange(2, 9).Draw(t, "tubes")
	targets := rapid.IntRange(1, 5).Draw(t, "targets")
	o := &families{n: n, blind: rapid.Bool().Draw(t, "blind"), lists: rapid.Bool().Draw(t, "lists")}
	c := &fakeCase{Stakes: &Stakes{Oracle: o, Tubes: n}, o: o}
	hazards, weights := set.New(n), make([]int, n)
	for i := range n {
		c.Prices = append(c.Prices, 5*rapid.IntRange(0, 9).Draw(t, "price"))
		c.Flaws = append(c.Flaws, rapid.IntRange(0, 2).Draw(t, "flaws"))
		weights[i] = rapid.SampledFrom([]int{0, 1, 5, 25}).Draw(t, "weight")
		if rapid.Bool().Draw(t, "hazard") {
			hazards.Add(i)
		}
	}
	for range targets {
		var mixes []gamut.Mix
		for i := range n {
			mixes = append(mixes, gamut.Mix{Paints: []int{i}, DE: rapid.Float64Range(1, 30).Draw(t, "single")})
		}
		for range rapid.IntRange(0, 8).Draw(t, "supports") {
			held := set.New(n)
			for range rapid.IntRange(1, 4).Draw(t, "paints") {
				held.Add(rapid.IntRange(0, n-1).Draw(t, "paint"))
			}
			mixes = append(mixes, gamut.Mix{Paints: held.Members(), DE: rapid.Float64Range(0, 4).Draw(t, "de")})
		}
		c.o.supports = append(c.o.supports, mixes)
		c.Tolerance = append(c.Tolerance, rapid.Float64Range(0.5, 3).Draw(t, "tolerance"))
		c.Area = append(c.Area, float64(rapid.IntRange(0, 5).Draw(t, "area")))
	}
	some := func(what string, most int) set.Set {
		out := set.New(n)
		for range rapid.IntRange(0, most).Draw(t, what) {
			out.Add(rapid.IntRange(0, n-1).Draw(t, what))
		}
		return out
	}
	c.wish = Wish{Prices: slices.Clone(c.Prices), Most: rapid.SampledFrom([]int{1, 3, 1000}).Draw(t, "most palettes")}
	for _, i := range some("own", 3).Members() {
		c.wish.Prices[i] = 0
	}
	limits := []Limit{{Kind: Keep, Tubes: some("keep", 1)}}
	for _, i := range some("never", 2).Members() {
		limits = append(limits, Limit{Kind: Forbid, Tubes: set.Of(n, i)})
	}
	if rapid.IntRange(0, 3).Draw(t, "bounded") == 0 {
		limits = append(limits, Limit{Kind: MostTubes, Most: rapid.IntRange(1, 4).Draw(t, "most tubes")})
	}
	if rapid.IntRange(0, 2).Draw(t, "budgeted") == 0 {
		limits = append(limits, Limit{Kind: Budget, Most: rapid.IntRange(0, 120).Draw(t, "budget")})
	}
	if rapid.IntRange(0, 3).Draw(t, "avoiding") == 0 {
		limits = append(limits, Limit{Kind: Forbid, Tubes: hazards})
	}
	if rapid.IntRange(0, 3).Draw(t, "only") == 0 {
		limits = append(limits, Limit{Kind: Only, Tubes: set.Union(some("only", n), set.Of(n, 0))})
	}
	for range rapid.IntRange(0, 2).Draw(t, "groups") {
		limits = append(limits, Limit{Kind: Group, Tubes: some("group", 4)})
	}
	for i := range limits {
		limits[i].Turn = i
	}
	c.wish.Limits = limits
	switch rapid.IntRange(0, 2).Draw(t, "order") {
	case 0:
		c.wish.Order = Order{"price", func(r *cover.Rules, _ int) []int { return r.Weights }}
	case 1:
		c.wish.Order = Order{"weights", func(*cover.Rules, int) []int { return weights }}
	}
	return c
}

// of are the limits of some kinds.
func (f *fakeCase) of(kinds ...Kind) []Limit {
	return slices.DeleteFunc(slices.Clone(f.wish.Limits), func(l Limit) bool { return !slices.Contains(kinds, l.Kind) })
}

// ruled are the rules of some limits; ok: some palette keeps them.
func (f *fakeCase) ruled(limits []Limit) (r *cover.Rules, ok bool) {
	r = RulesOf(f.Tubes, limits, f.wish.Prices)
	return r, slices.ContainsFunc(allSets(f.Tubes), func(s set.Set) bool { return s.Len() > 0 && keeps(s, r) })
}

// truth is the answer by trying every subset.
type truth struct {
	reachable []int
	feasible  bool
	size      int
	palettes  []set.Set
	lost      int
	worst     float64
}

func bruteForce(c *Core, f *families, r *cover.Rules) truth {
	var out truth
	for t := range c.Known {
		if f.distance(t, r.Allowed) <= c.Tolerance[t] {
			out.reachable = append(out.reachable, t)
		}
	}
	weights := c.Weights(out.reachable)
	out.size, out.lost, out.worst = math.MaxInt, math.MaxInt, math.Inf(1)
	leastSize := math.MaxInt
	for _, s := range allSets(f.n) {
		if !keeps(s, r) {
			continue
		}
		lost, worst := 0, 0.0
		for i, t := range out.reachable {
			de := f.distance(t, s)
			worst = max(worst, de)
			if de > c.Tolerance[t] {
				lost += weights[i]
			}
		}
		n := s.Len()
		if lost == 0 && n < out.size {
			out.size, out.palettes = n, nil
		}
		if lost == 0 && n == out.size {
			out.palettes = append(out.palettes, s)
		}
		if lost < out.lost || lost == out.lost && (worst < out.worst || worst == out.worst && n < leastSize) {
			out.lost, out.worst, leastSize = lost, worst, n
		}
	}
	out.feasible = out.size < math.MaxInt
	if !out.feasible {
		out.size = leastSize
	}
	return out
}

// keeps is written apart from Rules.Keeps on purpose.
func keeps(s set.Set, r *cover.Rules) bool {
	cost := 0
	for i, price := range r.Weights {
		switch {
		case s.Has(i) && !r.Allowed.Has(i), !s.Has(i) && r.Keep.Has(i):
			return false
		case s.Has(i):
			cost += price
		}
	}
	for _, g := range r.Groups {
		in := 0
		for i := range r.Weights {
			if g.Has(i) && s.Has(i) {
				in++
			}
		}
		if in > 1 {
			return false
		}
	}
	return (r.Most == 0 || s.Len() <= r.Most) && (!r.Budgeted || cost <= r.Budget)
}

func TestChoiceEqualsBruteForce(t *testing.T) {
	seen := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		f := drawCase(t)
		r, ok := f.ruled(f.wish.Limits)
		if !ok {
			t.Skip("limits contradict each other")
		}
		c := f.Blank()
		d, err := c.decide(context.Background(), &f.wish)
		if err != nil {
			t.Fatal(err)
		}
		want := bruteForce(c, f.o, r)
		if !slices.Equal(d.Reachable, want.reachable) {
			t.Fatalf("reachable %v, by brute force %v", d.Reachable, want.reachable)
		}
		switch {
		case len(want.reachable) == 0 && r.Keep.Len() == 0:
			seen["nothing reachable"]++
		case want.feasible:
			seen["feasible"]++
			checkFeasible(t, f, c, d, r, want)
		default:
			seen["infeasible"]++
			checkInfeasible(t, f, c, d, r, want)
		}
	})
	t.Log(seen)
	for _, kind := range []string{"feasible", "infeasible", "nothing reachable"} {
		if seen[kind] == 0 {
			t.Errorf("no case was %s", kind)
		}
	}
}

func checkFeasible(t *rapid.T, f *fakeCase, c *Core, d *Decision, r *cover.Rules, want truth) {
	if !d.reached || d.Size != want.size {
		t.Fatalf("size %d (reached %v), by brute force %d", d.Size, d.reached, want.size)
	}
	// By accuracy palettes are looked for less hard, and some may be overlooked.
	sure := !f.o.blind || f.wish.Order.Weigh != nil
	if n := min(len(want.palettes), f.wish.Most); sure && (len(d.Palettes) != n || d.Capped != (n < len(want.palettes))) {
		t.Fatalf("%d palettes listed (capped %v) of %d", len(d.Palettes), d.Capped, len(want.palettes))
	}
	for i, p := range d.Palettes {
		if !slices.ContainsFunc(want.palettes, func(w set.Set) bool { return slices.Equal(w, p) }) {
			t.Fatalf("palette %v is not a smallest one", p.Members())
		}
		for _, q := range d.Palettes[:i] {
			if slices.Equal(p, q) {
				t.Fatalf("palette %v is listed twice", p.Members())
			}
		}
	}
	if weigh := f.wish.Order.Weigh; weigh != nil {
		checkCosts(t, d.Palettes, want.palettes, cover.NewSum(weigh(r, d.Size)))
	} else if sure {
		checkFavourite(t, f, r, want, d.Palettes[0])
	}
	checkNeeds(t, c, d, r)
}

// checkCosts demands the cheapest palettes in order.
func checkCosts(t *rapid.T, listed, all []set.Set, s *cover.Sum) {
	var costs []int
	for _, p := range all {
		costs = append(costs, s.Of(p))
	}
	slices.Sort(costs)
	for i, p := range listed {
		if s.Of(p) != costs[i] {
			t.Fatalf("palette %d costs %d, by brute force %d", i, s.Of(p), costs[i])
		}
	}
}

func worstOf(f *fakeCase, targets []int, p set.Set) float64 {
	worst := 0.0
	for _, t := range targets {
		worst = max(worst, f.o.distance(t, p))
	}
	return worst
}

// checkFavourite demands that no smallest palette is better to the eye, or as
// good with fewer drawbacks, or as good in both and cheaper.
func checkFavourite(t *rapid.T, f *fakeCase, r *cover.Rules, want truth, first set.Set) {
	flaws := cover.NewSum(f.Flaws)
	key := func(p set.Set) []float64 {
		return []float64{AsGood(worstOf(f, want.reachable, p)), float64(flaws.Of(p)), float64(r.Weight(p))}
	}
	for _, p := range want.palettes {
		if slices.Compare(key(p), key(first)) < 0 {
			t.Fatalf("first palette %v %v, better %v %v", first.Members(), key(first), p.Members(), key(p))
		}
	}
}

// checkNeeds demands that each cut is true and that no smaller palette within
// the limits hits them all.
func checkNeeds(t *rapid.T, c *Core, d *Decision, r *cover.Rules) {
	f := c.Oracle.(*families)
	for _, n := range d.Needs {
		if de := f.distance(n.Target, set.Minus(r.Allowed, n.OneOf)); de <= c.Tolerance[n.Target] {
			t.Fatalf("target %d is reached without %v: %v", n.Target, n.OneOf.Members(), de)
		}
	}
	for _, s := range allSets(f.n) {
		if s.Len() >= d.Size || !keeps(s, r) {
			continue
		}
		if !slices.ContainsFunc(d.Needs, func(n Need) bool { return !n.OneOf.Meets(s) }) {
			t.Fatalf("the needs do not rule out %v", s.Members())
		}
	}
}

func checkInfeasible(t *rapid.T, f *fakeCase, c *Core, d *Decision, r *cover.Rules, want truth) {
	if d.reached || len(d.Palettes) != 1 || !keeps(d.Palettes[0], r) {
		t.Fatalf("palettes %v, reached %v", d.Palettes, d.reached)
	}
	p := d.Palettes[0]
	weights, lost := c.Weights(want.reachable), 0
	for i, target := range want.reachable {
		if f.o.distance(target, p) > c.Tolerance[target] {
			lost += weights[i]
		}
	}
	if lost != want.lost {
		t.Fatalf("lost %d, by brute force %d", lost, want.lost)
	}
	if got := worstOf(f, want.reachable, p); got > want.worst+Fineness {
		t.Fatalf("worst %v, by brute force %v", got, want.worst)
	}
	checkSmaller(t, f, c, d, r, want)
	checkConflict(t, f, c, d, want)
}

func sumOf(weights []int) (sum int) {
	for _, w := range weights {
		sum += w
	}
	return sum
}

// checkSmaller demands the smallest palette of all that miss as little, and of its
// size the one whose worst difference is least.
func checkSmaller(t *rapid.T, f *fakeCase, c *Core, d *Decision, r *cover.Rules, want truth) {
	weights := c.Weights(want.reachable)
	size, worst := d.Size, math.Inf(1)
	for _, s := range allSets(f.o.n) {
		if want.lost == sumOf(weights) {
			break // nothing is reached
		}
		lost := 0
		for i, target := range want.reachable {
			if f.o.distance(target, s) > c.Tolerance[target] {
				lost += weights[i]
			}
		}
		if !keeps(s, r) || lost > want.lost || s.Len() == 0 || s.Len() > size {
			continue
		}
		if s.Len() < size {
			size, worst = s.Len(), math.Inf(1)
		}
		worst = min(worst, worstOf(f, want.reachable, s))
	}
	switch p := d.Smaller; {
	case size == d.Size:
		if p != nil {
			t.Fatalf("smaller palette %v, by brute force none of fewer than %d tubes", p.Members(), size)
		}
	case p.Len() != size || !keeps(p, r) || worstOf(f, want.reachable, p) > worst+Fineness:
		t.Fatalf("smaller palette %v, by brute force one of %d tubes at %v", p.Members(), size, worst)
	}
}

// checkConflict demands that the limits named rule out full reach together and
// that each of them is needed for that.
func checkConflict(t *rapid.T, f *fakeCase, c *Core, d *Decision, want truth) {
	var named []Limit
	for _, i := range d.Conflict {
		named = append(named, f.wish.Limits[i])
	}
	if len(named) == 0 {
		t.Fatal("no limits are named")
	}
	possible := func(limits []Limit) bool {
		r, _ := f.ruled(limits)
		for _, s := range allSets(f.o.n) {
			if keeps(s, r) && !slices.ContainsFunc(want.reachable, func(t int) bool { return f.o.distance(t, s) > c.Tolerance[t] }) {
				return true
			}
		}
		return false
	}
	if possible(named) {
		t.Fatalf("%v do not conflict", named)
	}
	for i := range named {
		if !possible(slices.Delete(slices.Clone(named), i, i+1)) {
			t.Fatalf("%v is not part of the conflict %v", named[i], named)
		}
	}
}

// allSets are all sets of 0..n-1.
func allSets(n int) (out []set.Set) {
	for words := range uint64(1) << n {
		out = append(out, set.Set{words})
	}
	return out
}
