package solver

import (
	"context"
	"math"
	"slices"
	"testing"

	"fewtubes/gamut"
	"fewtubes/gamut/bounded"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/lessons"
	"fewtubes/solver/internal/reach"
)

// The criterion of the trade-offs: on 40 seeded small cases every point of the
// curve, every swap, and the tubes that help most and are missed least are those of
// brute force over all subsets.
func TestCurveAndSwapsEqualBruteForce(t *testing.T) {
	for seed := range uint64(bounded.Cases(t, 16, 40)) {
		p := smallProblem(t, 100+seed, 7)
		p.MostPalettes, p.MaxPartsTotal = 1, 6
		s, err := NewSession(p)
		if err != nil {
			t.Fatal(err)
		}
		far := newDistances(t, &p)
		checkCurve(t, seed, s, far)
		checkSwaps(t, seed, s, far)
		checkSpare(t, seed, s, far)
	}
}

// distances holds the difference of every subset to every target.
type distances [][]float64 // by subset, then target

func newDistances(t testing.TB, p *Problem) distances {
	t.Helper()
	m, err := newMixer(p)
	if err != nil {
		t.Fatal(err)
	}
	n := len(p.Tubes)
	out := make(distances, 1<<n)
	sets := subsets(n)
	out[0] = slices.Repeat([]float64{math.Inf(1)}, len(p.Targets))
	for s := 1; s < 1<<n; s++ {
		out[s] = slices.Clone(out[0])
		for i := range n {
			if s>>i&1 == 1 {
				for target, de := range out[s&^(1<<i)] {
					out[s][target] = min(out[s][target], de)
				}
			}
		}
		if sets[s].Len() > m.PaintsPerMix() {
			continue
		}
		for target := range p.Targets {
			if out[s][target] > choice.Fineness {
				out[s][target] = min(out[s][target], m.Closest(p.Targets[target].Lab, sets[s], gamut.Search).DE)
			}
		}
	}
	return out
}

func (d distances) worst(s int, targets []int) float64 {
	worst := 0.0
	for _, t := range targets {
		worst = max(worst, d[s][t])
	}
	return worst
}

func checkCurve(t *testing.T, seed uint64, s *Session, far distances) {
	t.Helper()
	const loosest = 3
	c, err := s.Curve(context.Background(), Limits{}, loosest, nil)
	if err != nil {
		t.Fatal(err)
	}
	var targets []int
	for i := range s.problem.Targets {
		if far[len(far)-1][i] <= loosest {
			targets = append(targets, i)
		}
	}
	if len(targets) != len(c.Targets) {
		t.Fatalf("case %d: %d targets, by brute force %d", seed, len(c.Targets), len(targets))
	}
	best := map[int]float64{} // by number of tubes
	for held := range far {
		n := set.Set{uint64(held)}.Len()
		worst := far.worst(held, targets)
		if old, ok := best[n]; !ok || worst < old {
			best[n] = worst
		}
	}
	for _, point := range c.Points {
		tightest := math.Inf(1)
		for n := range point.Tubes + 1 {
			tightest = min(tightest, best[n])
		}
		if math.Abs(point.Tolerance-tightest) > 2*choice.Fineness {
			t.Errorf("case %d: %d tubes hold %v, by brute force %v", seed, point.Tubes, point.Tolerance, tightest)
		}
		checkHolds(t, seed, s, far, targets, point)
	}
	for _, point := range c.Prices {
		tightest := math.Inf(1)
		for held := range far {
			if s.priceOf(held) <= point.Price {
				tightest = min(tightest, far.worst(held, targets))
			}
		}
		if math.Abs(point.Tolerance-tightest) > 2*choice.Fineness {
			t.Errorf("case %d: price %d holds %v, by brute force %v", seed, point.Price, point.Tolerance, tightest)
		}
		checkHolds(t, seed, s, far, targets, point)
	}
	if got, want := pricesOf(c.Prices), s.steps(far, targets, loosest); !slices.Equal(got, want) {
		t.Errorf("case %d: points at prices %v, by brute force %v", seed, got, want)
	}
}

func pricesOf(points []Point) (out []int) {
	for _, p := range points {
		out = append(out, p.Price)
	}
	return out
}

// steps are the prices on the curve: the least that holds the loosest tolerance,
// the least that is a step tighter than what that can hold, and so on.
func (s *Session) steps(far distances, targets []int, loosest float64) (prices []int) {
	if len(targets) == 0 {
		return nil
	}
	floor := far.worst(len(far)-1, targets)
	for tolerance := loosest; tolerance >= max(floor, lessons.FineEnough-lessons.PriceStep); {
		price, tightest := math.MaxInt, math.Inf(1)
		for set := range far {
			if far.worst(set, targets) <= tolerance {
				price = min(price, s.priceOf(set))
			}
		}
		for set := range far {
			if s.priceOf(set) <= price {
				tightest = min(tightest, far.worst(set, targets))
			}
		}
		prices = append(prices, price)
		tolerance = tightest - lessons.PriceStep
	}
	return prices
}

func (s *Session) priceOf(set int) int {
	total := 0
	for i := range s.index.tubes {
		if set>>i&1 == 1 {
			total += s.index.tubes[i].Price
		}
	}
	return total
}

func checkHolds(t *testing.T, seed uint64, s *Session, far distances, targets []int, point Point) {
	t.Helper()
	set, err := s.index.find("point", point.Palette)
	if err != nil || set.Len() != point.Tubes || s.priceOf(int(set[0])) != point.Price {
		t.Errorf("case %d: point %+v: %v", seed, point, err)
	}
	if worst := far.worst(int(set[0]), targets); worst > point.Tolerance+2*choice.Fineness {
		t.Errorf("case %d: %v holds %v, not %v", seed, point.Palette, worst, point.Tolerance)
	}
}

func checkSwaps(t *testing.T, seed uint64, s *Session, far distances) {
	t.Helper()
	limits := Limits{}
	a, err := s.Choose(context.Background(), limits, Accuracy, nil)
	if err != nil {
		t.Fatal(err)
	}
	best := a.Palettes[0]
	palette, _ := s.index.find("palette", best.Tubes)
	var reached []int
	for i, o := range best.Targets {
		if o.Reached {
			reached = append(reached, i)
		}
	}
	for _, budget := range []Budget{{}, Spend(best.Price)} {
		swaps, err := s.Swaps(context.Background(), Limits{Budget: budget}, best.Tubes)
		if err != nil {
			t.Fatal(err)
		}
		for n, out := range palette.Members() {
			var want []string
			for in := range s.index.tubes {
				set := int(palette[0])&^(1<<out) | 1<<in
				if palette.Has(in) || !budget.allows(s.priceOf(set)) {
					continue
				}
				holds := !slices.ContainsFunc(reached, func(i int) bool { return far[set][i] > s.problem.Targets[i].Tolerance })
				if holds {
					want = append(want, s.index.tubes[in].ID)
				}
			}
			var got []string
			for _, in := range swaps[n].StandIns {
				got = append(got, in.Tube)
				i := s.index.place[in.Tube]
				if worst := far.worst(int(palette[0])&^(1<<out)|1<<i, reached); math.Abs(worst-float64(in.WorstDE)) > reach.Exact {
					t.Errorf("case %d: %s for %s comes to %v, by brute force %v", seed, in.Tube, swaps[n].Tube, in.WorstDE, worst)
				}
			}
			slices.Sort(got)
			slices.Sort(want)
			if !slices.Equal(got, want) {
				t.Errorf("case %d, budget %+v: %v for %s, by brute force %v", seed, budget, got, swaps[n].Tube, want)
			}
		}
	}
}

// checkSpare holds the tube that is missed least against every other.
func checkSpare(t *testing.T, seed uint64, s *Session, far distances) {
	t.Helper()
	all := far[len(far)-1]
	for palette := 3; palette < len(far); palette += 9 {
		held := set.Set{uint64(palette)}
		if held.Len() < 2 {
			continue
		}
		got, err := s.BestSpare(context.Background(), s.index.ids(held))
		if err != nil {
			t.Fatal(err)
		}
		fewest, least := math.Inf(1), math.Inf(1)
		var area, mean float64
		for _, i := range held.Members() {
			loss, _ := s.change(far[palette&^(1<<i)], far[palette], all)
			_, de := s.change(far[palette&^(1<<i)], far[palette&^(1<<i)], all)
			if loss < fewest || loss == fewest && de < least {
				fewest, least = loss, de
			}
			if s.index.tubes[i].ID == got.Tube {
				area, mean = loss, de
			}
		}
		if area != fewest || mean > least+reach.Exact {
			t.Errorf("case %d: %v without %s loses an area of %v and comes to %.4f on the mean, by brute force %v and %.4f", seed, s.index.ids(held), got.Tube, area, mean, fewest, least)
		}
	}
}

// change is the area that comes within reach between two sets of differences, and
// the mean of the second over the targets that all tubes reach, of all where they
// reach none.
func (s *Session) change(before, after, all []float64) (area, mean float64) {
	sum, n, whole := 0.0, 0.0, 0.0
	for t := range after {
		target := &s.problem.Targets[t]
		if before[t] > target.Tolerance && after[t] <= target.Tolerance {
			area += target.Area
		}
		whole += after[t] / float64(len(after))
		if all[t] <= target.Tolerance {
			sum, n = sum+after[t], n+1
		}
	}
	if n == 0 {
		return area, whole
	}
	return area, sum / n
}
