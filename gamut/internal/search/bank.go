package search

import (
	"math"
	"sync"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/kernel"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// bank holds the colours of pairs of paints at a few ratios, from which
// searches start. A row (one paint with every other) is computed when it is
// first asked for, so the cost follows the tubes in use, and the bank grows
// with the square of the catalogue at most.
type bank struct {
	m    *Paints
	rows []bankRow
	rank func() []int // all paints, most different from one another first
}

type bankRow struct {
	once  sync.Once
	pairs []kernel.Pair // by the other paint
}

const (
	mostSeeds = 64
	allPairs  = 64 // palettes up to this size look at all their pairs
	hubs      = 16 // above it, at the pairs of this many of its paints
)

// seed is a pair to start from.
type seed struct {
	first, second int
	at            int // of bankRatios
	distance      float32
}

func newBank(m *Paints) *bank {
	return &bank{m: m, rows: make([]bankRow, len(m.films)), rank: sync.OnceValue(func() []int { return rankByDifference(m) })}
}

func (b *bank) row(i int) []kernel.Pair {
	r := &b.rows[i]
	r.once.Do(func() {
		pairs := make([]kernel.Pair, len(b.m.films))
		for j := range pairs {
			pairs[j] = kernel.PairOf(b.m.bands, &b.m.optics, i, j)
		}
		r.pairs = pairs
	})
	return r.pairs
}

// rankByDifference orders the paints by farthest-point traversal over masstone
// and tint, so that the first few of any palette span it.
func rankByDifference(m *Paints) []int {
	n := len(m.films)
	look, lightest := looksOf(m)
	rank := []int{lightest}
	gap := make([]float64, n)
	for i := range gap {
		gap[i] = math.Inf(1)
	}
	for len(rank) < n {
		last := rank[len(rank)-1]
		gap[last] = -1
		far := -1
		for i := range gap {
			d := portable.Hypot(distance76(look[i][0], look[last][0]), distance76(look[i][1], look[last][1]))
			gap[i] = min(gap[i], d)
			if gap[i] >= 0 && (far < 0 || gap[i] > gap[far]) {
				far = i
			}
		}
		rank = append(rank, far)
	}
	return rank
}

func distance76(p, q colour.Lab) float64 {
	return math.Sqrt(float64((p.L-q.L)*(p.L-q.L)) + float64((p.A-q.A)*(p.A-q.A)) + float64((p.B-q.B)*(p.B-q.B)))
}

// collect fills w.seeds from the pairs of the palette: by turns one of the
// nearest pairs and the nearest mix in one region of hue and chroma, which keep
// the starts apart; at most count of each, none twice.
func (b *bank) collect(w *workspace, palette set.Set, count int) {
	w.near = w.near[:0]
	for i := range w.nearest {
		w.nearest[i] = float32(math.Inf(1))
	}
	w.gauge = kernel.NewGauge(w.aim.Target)
	b.eachRow(w, palette, func(i int, others []int) { w.look(i, b.row(i), others, count) })
	w.apart = w.apart[:0]
	for i, s := range w.regions {
		if !math.IsInf(float64(w.nearest[i]), 0) {
			p := &b.row(s.first)[s.second]
			s.distance = float32(w.squaredAt(colour.Lab{L: float64(p.L[s.at]), A: float64(p.A[s.at]), B: float64(p.B[s.at])}))
			w.apart = offer(w.apart, s, count)
		}
	}
	w.seeds = w.seeds[:0]
	for i := range count {
		if i < len(w.near) {
			w.seeds = append(w.seeds, w.near[i])
		}
		if i < len(w.apart) && !holdsSeed(w.near, w.apart[i]) {
			w.seeds = append(w.seeds, w.apart[i])
		}
	}
}

// holdsSeed reports whether the same pair at the same ratio is among the seeds.
func holdsSeed(seeds []seed, s seed) bool {
	for i := range seeds {
		if t := &seeds[i]; t.first == s.first && t.second == s.second && t.at == s.at {
			return true
		}
	}
	return false
}

// eachRow visits the pairs to look at: one paint with each of some others, which
// may hold itself.
func (b *bank) eachRow(w *workspace, palette set.Set, look func(i int, others []int)) {
	if len(w.holds) > 0 {
		for _, i := range w.holds {
			look(i, w.members)
		}
		return
	}
	if len(w.members) <= allPairs {
		for n, i := range w.members {
			look(i, w.members[n+1:])
		}
		return
	}
	done := 0
	for _, i := range b.rank() {
		if !palette.Has(i) {
			continue
		}
		look(i, w.members)
		if done++; done == hubs {
			return
		}
	}
}

// offer keeps s among the nearest count seeds, in order.
func offer(seeds []seed, s seed, count int) []seed {
	n := len(seeds)
	if n == count {
		if s.distance >= seeds[n-1].distance {
			return seeds
		}
		n--
	} else {
		seeds = append(seeds, s)
	}
	for ; n > 0 && seeds[n-1].distance > s.distance; n-- {
		seeds[n] = seeds[n-1]
	}
	seeds[n] = s
	return seeds
}

// look goes through the pairs of one paint with others: the nearest go into
// w.near, at most count, and the nearest of each region into w.regions.
func (w *workspace) look(i int, pairs []kernel.Pair, others []int, count int) {
	var d [kernel.Lanes]float32
	for {
		worst := float32(math.Inf(1))
		if n := len(w.near); n == count {
			worst = w.near[n-1].distance
		}
		n := w.gauge.Next(&w.nearest, pairs, others, worst, &d)
		if n == len(others) {
			return
		}
		if j := others[n]; j != i {
			w.take(i, j, &pairs[j], &d, count)
		}
		others = others[n+1:]
	}
}

// take keeps what is near of a pair at distances d.
func (w *workspace) take(i, j int, p *kernel.Pair, d *[kernel.Lanes]float32, count int) {
	at := 0
	for k := range kernel.Ratios {
		if d[k] < d[at] {
			at = k
		}
		if r := p.Region[k]; d[k] < w.nearest[r] {
			w.nearest[r], w.regions[r] = d[k], seed{i, j, k, d[k]}
		}
	}
	w.near = offer(w.near, seed{i, j, at, d[at]}, count)
}
