package search

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/kernel"
	"fewtubes/gamut/set"
)

// Effort is how hard a search is made.
type Effort int

const (
	Quick   Effort = iota // a look while browsing
	Search                // the default
	Verdict               // for a verdict that enters a proof
)

func (e Effort) String() string { return [...]string{"quick", "search", "verdict"}[e] }

// starts is how many seeds of each kind are tried, how often the best must have
// been met again to stop before, and how many paints are then kicked into it.
func (e Effort) starts() (seeds, agree, kicks int) {
	switch e {
	case Quick:
		return 3, 2, 0
	case Verdict:
		return mostSeeds, 2 * mostSeeds, mostSeeds
	}
	return 24, 12, 12
}

// Closest is the mix of the palette's paints nearest to the target in CIEDE2000.
func (m *Paints) Closest(target colour.Lab, palette set.Set, effort Effort) Mix {
	return m.ClosestOf(target, palette, m.limit, effort)
}

// ClosestOf is Closest among mixes of at most limit paints.
func (m *Paints) ClosestOf(target colour.Lab, palette set.Set, limit int, effort Effort) Mix {
	return m.search(target, palette, limit, nil, 0, effort)
}

// Within is the first mix found within a tolerance in CIEDE2000, or else the nearest.
func (m *Paints) Within(target colour.Lab, palette set.Set, tolerance float64, effort Effort) (Mix, bool) {
	mix := m.search(target, palette, m.limit, nil, tolerance, effort)
	return mix, mix.DE <= tolerance
}

// WithinBy is a quick Within that starts from pairs with one of some paints of
// the palette: enough where the palette is known to miss the target without them.
func (m *Paints) WithinBy(target colour.Lab, palette set.Set, paints []int, tolerance float64) (Mix, bool) {
	mix := m.search(target, palette, m.limit, paints, tolerance, Quick)
	return mix, mix.DE <= tolerance
}

// ClosestFrom is the nearest mix that exactly so many starts lead to, or as many
// as the palette's pairs give: without the early end, the kicks and the detours
// of Closest. It is for measuring beside other methods of minimising.
func (m *Paints) ClosestFrom(target colour.Lab, palette set.Set, starts int) Mix {
	w := m.workspace()
	defer m.pool.Put(w)
	w.begin(target, palette)
	w.holds = nil
	if len(w.members) == 0 {
		return Mix{DE: math.Inf(1)}
	}
	w.best.squared, w.enough = math.Inf(1), 0
	w.alone()
	if w.limit > 1 && len(w.members) > 1 {
		m.bank.collect(w, palette, min(starts, mostSeeds))
		w.startFrom(w.seeds[:min(starts, len(w.seeds))], len(w.seeds))
	}
	return w.finish(target)
}

// search looks among mixes of at most limit paints; the starts hold one of by,
// unless it is empty.
func (m *Paints) search(target colour.Lab, palette set.Set, limit int, by []int, tolerance float64, effort Effort) Mix {
	w := m.workspace()
	defer m.pool.Put(w)
	w.begin(target, palette)
	w.limit, w.holds = min(limit, m.limit), by
	if len(w.members) == 0 {
		return Mix{DE: math.Inf(1)}
	}
	w.run(palette, tolerance, effort)
	return w.finish(target)
}

// run leaves the nearest mix found in w.best.
func (w *workspace) run(palette set.Set, tolerance float64, effort Effort) {
	seeds, agree, kicks := effort.starts()
	w.best.squared = math.Inf(1)
	w.enough = max(met, tolerance*tolerance*(1-1e-9))
	w.alone()
	if w.limit == 1 || len(w.members) == 1 {
		return
	}
	if len(w.holds) == 0 && len(w.members) <= effort.everyUpTo(w.limit) {
		w.runEvery(palette, effort == Verdict && len(w.members) <= Search.everyUpTo(w.limit))
	} else {
		w.m.bank.collect(w, palette, seeds)
		w.startFrom(w.seeds, agree)
		if effort != Quick && w.best.squared > max(farOff, w.enough) {
			w.far(palette, false)
			w.swap()
		}
		w.kick(kicks)
	}
	w.polish()
}

// startFrom settles from one seed after another, until the best is near enough or
// has been met again so often.
func (w *workspace) startFrom(seeds []seed, agree int) {
	again := 0
	for i := 0; i < len(seeds) && again < agree && w.best.squared > w.enough; i++ {
		w.begun(seeds[i])
		w.settle()
		again = w.keepBetter(again)
	}
}

// polish follows the curved valleys of far targets to their end.
func (w *workspace) polish() {
	if w.best.squared <= w.enough {
		return
	}
	w.restore(&w.best)
	w.descendUntil(leastGain/100, 200)
	w.dropNothing()
	w.keepBetter(0)
}

// alone sets best to the nearest single paint.
func (w *workspace) alone() {
	alone := w.members
	if len(w.holds) > 0 {
		alone = w.holds
	}
	for _, p := range alone {
		w.list, w.amount = append(w.list[:0], p), append(w.amount[:0], 1)
		w.evaluate()
		if w.aim.Squared < w.best.squared {
			w.save(&w.best)
		}
	}
}

// begun takes up the pair of a seed.
func (w *workspace) begun(s seed) {
	w.list = append(w.list[:0], s.first, s.second)
	ratio := kernel.Ratios[s.at]
	w.amount = append(w.amount[:0], 1-ratio, ratio)
	w.evaluate()
}

// TraceShare is the share by volume below which a paint is left out, if that
// costs less than traceCost.
const (
	TraceShare = 1e-4
	traceCost  = 1e-4
)

// finish turns w.best into an answer: traces left out, paints in order, shares
// by volume, and the colour worked out again by the plain way.
func (w *workspace) finish(target colour.Lab) Mix {
	w.restore(&w.best)
	w.dropTraces()
	w.sort()
	mix := Mix{Paints: append([]int(nil), w.list...), Shares: make([]float64, len(w.list))}
	for i, p := range w.list {
		mix.Shares[i] = w.amount[i] / w.m.scale[p]
	}
	normalise(mix.Shares)
	mix.Lab = w.m.Evaluate(mix.Paints, mix.Shares)
	mix.DE = colour.DE2000(mix.Lab, target)
	return mix
}

func (w *workspace) dropTraces() {
	for i := len(w.list) - 1; i >= 0 && len(w.list) > 1; i-- {
		total := 0.0
		for k, p := range w.list {
			total += w.amount[k] / w.m.scale[p]
		}
		if w.amount[i]/w.m.scale[w.list[i]] > TraceShare*total {
			continue
		}
		w.save(&w.kept)
		w.dropAt(i)
		w.evaluate()
		w.descend(fullLook)
		if math.Sqrt(w.aim.Squared) > math.Sqrt(w.kept.squared)+traceCost {
			w.restore(&w.kept)
		}
	}
}

// sort puts the paints of the mix in ascending order.
func (w *workspace) sort() {
	for i := 1; i < len(w.list); i++ {
		for k := i; k > 0 && w.list[k] < w.list[k-1]; k-- {
			w.list[k], w.list[k-1] = w.list[k-1], w.list[k]
			w.amount[k], w.amount[k-1] = w.amount[k-1], w.amount[k]
		}
	}
}
