package gamut

import (
	"math"
	"sync"

	"fewtubes/gamut/colour"
)

// bank holds the colours of pairs of paints at a few ratios, from which
// searches start. A row (one paint with every other) is computed when it is
// first asked for, so the cost follows the tubes in use, and the bank grows
// with the square of the catalogue at most.
type bank struct {
	m    *Mixer
	rows []bankRow
	rank func() []int // all paints, most different from one another first
}

type bankRow struct {
	once sync.Once
	lab  [][len(bankRatios)][3]float32 // by the other paint
}

// bankRatios are the parts of the second paint in a pair, scaled amounts. The
// ends are close because a trace of a strong tinter already turns a white.
var bankRatios = [...]float64{0.008, 0.05, 0.2, 0.5, 0.8, 0.95, 0.992}

const (
	mostSeeds = 64
	allPairs  = 64 // palettes up to this size look at all their pairs
	hubs      = 16 // above it, at the pairs of this many of its paints
)

// seed is a pair to start from.
type seed struct {
	first, second int
	ratio         float64 // scaled amount of the second, of 1
	distance      float32
}

func newBank(m *Mixer) *bank {
	return &bank{m: m, rows: make([]bankRow, len(m.paints)), rank: sync.OnceValue(func() []int { return rankByDifference(m) })}
}

func (b *bank) row(i int) [][len(bankRatios)][3]float32 {
	r := &b.rows[i]
	r.once.Do(func() {
		var p point
		lab := make([][len(bankRatios)][3]float32, len(b.m.paints))
		for j := range lab {
			for k, t := range bankRatios {
				p.mix(b.m.bands, []int{i, j}, []float64{1 - t, t})
				p.colour(&b.m.optics)
				lab[j][k] = [3]float32{float32(p.lab.L), float32(p.lab.A), float32(p.lab.B)}
			}
		}
		r.lab = lab
	})
	return r.lab
}

// rankByDifference orders the paints by farthest-point traversal over masstone
// and tint, so that the first few of any palette span it.
func rankByDifference(m *Mixer) []int {
	n := len(m.paints)
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
			d := math.Hypot(distance76(look[i][0], look[last][0]), distance76(look[i][1], look[last][1]))
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
	return math.Sqrt((p.L-q.L)*(p.L-q.L) + (p.A-q.A)*(p.A-q.A) + (p.B-q.B)*(p.B-q.B))
}

// collect fills w.seeds from the pairs of the palette: by turns one of the
// nearest pairs and the nearest mix in one region of hue and chroma, which keep
// the starts apart; at most count of each.
func (b *bank) collect(w *workspace, palette Set, count int) {
	w.near, w.regions = w.near[:0], [hueRegions]seed{}
	for i := range w.regions {
		w.regions[i].distance = float32(math.Inf(1))
	}
	g := newGauge(w.aim.target)
	look := func(i, j int, labs *[len(bankRatios)][3]float32) {
		s := g.pair(i, j, labs, &w.regions)
		w.near = offer(w.near, s, count)
	}
	b.eachPair(w, palette, look)
	w.apart = w.apart[:0]
	for _, s := range w.regions {
		if !math.IsInf(float64(s.distance), 0) {
			w.begun(s)
			s.distance = float32(w.aim.squared)
			w.apart = offer(w.apart, s, count)
		}
	}
	w.seeds = w.seeds[:0]
	for i := range count {
		if i < len(w.near) {
			w.seeds = append(w.seeds, w.near[i])
		}
		if i < len(w.apart) {
			w.seeds = append(w.seeds, w.apart[i])
		}
	}
}

func (b *bank) eachPair(w *workspace, palette Set, look func(i, j int, labs *[len(bankRatios)][3]float32)) {
	if len(w.holds) > 0 {
		for _, i := range w.holds {
			row := b.row(i)
			for _, j := range w.members {
				if j != i {
					look(i, j, &row[j])
				}
			}
		}
		return
	}
	if len(w.members) <= allPairs {
		for n, i := range w.members {
			row := b.row(i)
			for _, j := range w.members[n+1:] {
				look(i, j, &row[j])
			}
		}
		return
	}
	done := 0
	for _, i := range b.rank() {
		if !palette.Has(i) {
			continue
		}
		row := b.row(i)
		for _, j := range w.members {
			if j != i {
				look(i, j, &row[j])
			}
		}
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

// gauge is a quadratic stand-in for CIEDE2000 around one target, for ranking.
type gauge struct{ l, a, b, c0, c1, h0, h1, perL float32 }

func newGauge(t colour.Lab) gauge {
	chroma := math.Hypot(t.A, t.B)
	cos, sin := 1.0, 0.0
	if chroma > 1e-9 {
		cos, sin = t.A/chroma, t.B/chroma
	}
	u := (t.L - 50) * (t.L - 50)
	perL := 1 / (1 + 0.015*u/math.Sqrt(20+u))
	perC, perH := 1/(1+0.045*chroma), 1/(1+0.015*chroma)
	return gauge{
		l: float32(t.L), a: float32(t.A), b: float32(t.B), perL: float32(perL),
		c0: float32(cos * perC), c1: float32(sin * perC), h0: float32(-sin * perH), h1: float32(cos * perH),
	}
}

const hueRegions = 32

func hueRegion(a, b float32) int {
	r := 0
	switch d := a*a + b*b; {
	case d > 900:
		r = 8
	case d > 200:
		r = 16
	case d > 30:
		r = 24
	}
	if a < 0 {
		r, a = r|1, -a
	}
	if b < 0 {
		r, b = r|2, -b
	}
	if a < b {
		r |= 4
	}
	return r
}

func (g *gauge) pair(i, j int, labs *[len(bankRatios)][3]float32, regions *[hueRegions]seed) seed {
	best, at := float32(math.Inf(1)), 0
	for k := range labs {
		a, b := labs[k][1], labs[k][2]
		dl, da, db := (labs[k][0]-g.l)*g.perL, a-g.a, b-g.b
		c, h := g.c0*da+g.c1*db, g.h0*da+g.h1*db
		d := dl*dl + c*c + h*h
		if d < best {
			best, at = d, k
		}
		if r := &regions[hueRegion(a, b)]; d < r.distance {
			*r = seed{i, j, bankRatios[k], d}
		}
	}
	return seed{i, j, bankRatios[at], best}
}
