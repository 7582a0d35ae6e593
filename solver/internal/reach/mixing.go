package reach

import (
	"context"
	"math"
	"runtime"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/set"
)

// mixing is the oracle of real paints. Each search for a mix starts by letting
// other goroutines run: left to the runtime, a row of searches holds a processor
// for 10 ms, and a goroutine that waits behind several rows, such as the one that
// notices that a request was given up, waits for all of them.
type mixing struct {
	mixer   *gamut.Mixer
	table   *gamut.Table // of the targets; nil where a mix may hold too many paints
	targets []colour.Lab
}

func (m *mixing) Within(t int, palette set.Set, tolerance float64, e gamut.Effort) (gamut.Mix, bool) {
	runtime.Gosched()
	return m.mixer.Within(m.targets[t], palette, tolerance, e)
}

func (m *mixing) Closest(t int, palette set.Set, e gamut.Effort) gamut.Mix {
	runtime.Gosched()
	return m.mixer.Closest(m.targets[t], palette, e)
}

func (m *mixing) Swap(t int, mix *gamut.Mix, out, in int) gamut.Mix {
	paints := slices.Clone(mix.Paints)
	paints[slices.Index(paints, out)] = in
	return m.mixer.Settle(m.targets[t], paints, mix.Shares)
}

func (m *mixing) WithinBy(t int, palette set.Set, tubes []int, tolerance float64) (gamut.Mix, bool) {
	return m.mixer.WithinBy(m.targets[t], palette, tubes, tolerance)
}

func (m *mixing) Alike(tube int) []int { return m.mixer.Alike(tube) }

func (m *mixing) Pulls(t int, mix *gamut.Mix) []float64 { return m.mixer.Pulls(m.targets[t], mix) }

func (m *mixing) PullsWithout(t int, mix *gamut.Mix, tube int) []float64 {
	at := slices.Index(mix.Paints, tube)
	paints := slices.Delete(slices.Clone(mix.Paints), at, at+1)
	rest := m.mixer.Settle(m.targets[t], paints, slices.Delete(slices.Clone(mix.Shares), at, at+1))
	return m.mixer.Pulls(m.targets[t], &rest)
}

func (m *mixing) Lists() bool { return m.table != nil }

func (m *mixing) Brings(t int, palette set.Set, tube int, tolerance float64) bool {
	return m.table.Brings(t, palette, tube, tolerance)
}

func (m *mixing) Promise(ctx context.Context, t int, domain set.Set, tolerance float64) ([]int, error) {
	return m.table.Promise(ctx, t, domain, tolerance)
}

func (m *mixing) Listed(t int, palette set.Set, tolerance float64) (gamut.Mix, bool) {
	tubes := m.table.Reaches(t, palette, tolerance)
	if tubes == nil {
		return gamut.Mix{DE: math.Inf(1)}, false
	}
	return m.table.Nearest(t, tubes), true
}

// Unlisted asks a mixer about some targets, without lists and without a memory: for
// one of many mixers of which each is asked little.
func Unlisted(mixer *gamut.Mixer, targets []colour.Lab) Oracle { return &mixing{mixer, nil, targets} }
