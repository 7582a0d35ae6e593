package solver

import (
	"cmp"
	"context"
	"slices"

	"fewtubes/gamut"
)

// Swap is a tube of a palette and what could stand in for it.
type Swap struct {
	Tube     string
	StandIns []StandIn // least worst difference first; none: it has no substitute
}

// StandIn is a tube with which, in place of another, everything reached before
// is still reached.
type StandIn struct {
	Tube    string
	WorstDE float64 // of the palette with the stand-in, over the same targets
	MeanDE  float64
	Price   int // of the palette with the stand-in
}

// Swaps finds for each tube of a palette every tube that could stand in for it
// under the limits, with all that the palette reaches still reached.
func (s *Session) Swaps(ctx context.Context, limits Limits, tubes []string) ([]Swap, error) {
	r, err := s.box.rules(&limits)
	if err != nil {
		return nil, err
	}
	set, err := s.box.find("palette", tubes)
	if err != nil {
		return nil, err
	}
	reached := s.reachedBy(set)
	var out []Swap
	for _, i := range set.Members() {
		swap := Swap{Tube: s.box.tubes[i].ID, StandIns: []StandIn{}}
		less := set.Clone()
		less.Remove(i)
		for _, j := range minus(r.allowed, set).Members() {
			with := less.Clone()
			with.Add(j)
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			if r.kept(with) && s.core.reachesAll(with, less, r.allowed, reached) {
				swap.StandIns = append(swap.StandIns, s.standIn(r, j, with, reached))
			}
		}
		slices.SortStableFunc(swap.StandIns, func(a, b StandIn) int {
			return cmp.Or(cmp.Compare(a.WorstDE, b.WorstDE), cmp.Compare(a.MeanDE, b.MeanDE))
		})
		out = append(out, swap)
	}
	return out, nil
}

// reachesAll answers from known mixes and cuts where it can. A palette found to
// miss a target leaves a cut behind, grown from its core, that also answers for
// most of the next candidates.
func (c *core) reachesAll(with, base, allowed gamut.Set, targets []int) bool {
	for _, t := range targets {
		if c.known[t].knownToMiss(with, c.tolerance[t]) {
			return false
		}
	}
	for _, t := range targets {
		k := c.known[t]
		if k.knownToReach(with, c.tolerance[t]) {
			continue
		}
		if missing, err := k.explain(context.Background(), with, allowed, c.tolerance[t]); missing || err != nil {
			return false
		}
	}
	return true
}

func (s *Session) standIn(r *rules, tube int, palette gamut.Set, targets []int) StandIn {
	out := StandIn{Tube: s.box.tubes[tube].ID, Price: r.cost(palette)}
	far := s.differences(palette, targets)
	for _, de := range far {
		out.WorstDE = max(out.WorstDE, de)
		out.MeanDE += de / float64(len(far))
	}
	return out
}

// Addition is the tube that would help a palette most.
type Addition struct {
	Tube    string
	Reached []string // targets that come within reach by it
	MeanDE  float64  // with it, over all targets
	Price   int      // of the tube; 0 if it is owned
}

// BestAddition is the tube of those allowed that, added to a palette, brings
// most of the missed area within reach; of equals the one with the least mean
// difference over all targets. It is nil when none is left to add.
func (s *Session) BestAddition(ctx context.Context, limits Limits, tubes []string) (*Addition, error) {
	r, err := s.box.rules(&limits)
	if err != nil {
		return nil, err
	}
	set, err := s.box.find("palette", tubes)
	if err != nil {
		return nil, err
	}
	all := everyTarget(len(s.problem.Targets))
	before := s.differences(set, all)
	var best *Addition
	most := -1
	weights := s.core.weights(all)
	for _, i := range minus(r.allowed, set).Members() {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		with := set.Clone()
		with.Add(i)
		gain, a := 0, Addition{Tube: s.box.tubes[i].ID, Price: r.prices[i], Reached: []string{}}
		for t, de := range s.differences(with, all) {
			de = min(de, before[t])
			a.MeanDE += de / float64(len(all))
			if tolerance := s.core.tolerance[t]; before[t] > tolerance && de <= tolerance {
				gain += weights[t]
				a.Reached = append(a.Reached, s.problem.Targets[t].Name)
			}
		}
		if gain > most || gain == most && a.MeanDE < best.MeanDE {
			best, most = &a, gain
		}
	}
	return best, nil
}

// Spare is the tube of a palette that could best stay at home.
type Spare struct {
	Tube   string
	Lost   []Loss  // targets no longer reached without it; none: it is not needed
	MeanDE float64 // without it, over all targets
}

// BestSpare is the tube whose absence costs least area, then least mean
// difference. It is nil for a palette of fewer than two tubes.
func (s *Session) BestSpare(tubes []string) (*Spare, error) {
	set, err := s.box.find("palette", tubes)
	if err != nil || set.Len() < 2 {
		return nil, err
	}
	all := everyTarget(len(s.problem.Targets))
	before := s.differences(set, all)
	weights := s.core.weights(all)
	var best *Spare
	least := 0
	for _, i := range set.Members() {
		less := set.Clone()
		less.Remove(i)
		loss, spare := 0, Spare{Tube: s.box.tubes[i].ID}
		for t, de := range s.differences(less, all) {
			spare.MeanDE += de / float64(len(all))
			if tolerance := s.core.tolerance[t]; before[t] <= tolerance && de > tolerance {
				loss += weights[t]
				spare.Lost = append(spare.Lost, Loss{s.problem.Targets[t].Name, de})
			}
		}
		if best == nil || loss < least || loss == least && spare.MeanDE < best.MeanDE {
			best, least = &spare, loss
		}
	}
	return best, nil
}
