package search

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"

	"gonum.org/v1/gonum/optimize"
)

// lattice is a reference for the closest mix that shares nothing with the search
// but the film model and CIEDE2000. Every support of a palette is sampled on a
// lattice of the logarithms of the amounts; each sample that no neighbour betters is
// followed downhill by trial alone, without slopes; and where the lattice crosses the
// jump of CIEDE2000 at opposite hues, the way goes on along the jump, on both sides.
type lattice struct {
	paints   []film.Paint // of the palette, each scaled to a mean K+S of 1
	supports [5][]lattices
}

// lattices are some paints of a palette and the colours of their lattice.
type lattices struct {
	paints []int
	lab    []colour.Lab
}

// latticeSteps are the samples along an axis by the number of paints, over
// latticeSpan of the logarithm to either side of equal amounts.
var latticeSteps = [5]int{2: 65, 3: 31, 4: 11}

const (
	latticeSpan  = 8.0
	latticeEdges = 2    // crossings of the jump that are followed, by support and axis
	latticeNear  = 6.0  // how much farther than the best, in CIEDE2000, they may be
	latticeLeast = 2e-4 // the last step
	latticeMet   = 1e-4 // CIEDE2000 that ends it
	latticeClose = 0.05 // a step at which what is more than latticeHope farther than the best is given up
	latticeHope  = 4.0
)

func newLattice(paints []film.Paint) *lattice {
	l := &lattice{paints: make([]film.Paint, len(paints))}
	for i := range paints {
		mean := 0.0
		for b := range paints[i].K {
			mean += (paints[i].K[b] + paints[i].S[b]) / colour.Bands
		}
		film.Mix(&l.paints[i], paints[i:i+1], []float64{1 / mean})
	}
	return l
}

// of are the supports of so many paints.
func (l *lattice) of(size int) []lattices {
	if l.supports[size] == nil {
		samples.EachSupport(set.Full(len(l.paints)).Members(), size, func(s []int) {
			l.supports[size] = append(l.supports[size], l.sample(slices.Clone(s)))
		})
	}
	return l.supports[size]
}

func (l *lattice) sample(paints []int) lattices {
	s := lattices{paints: paints}
	logs := make([]float64, len(paints)-1)
	n := latticeSteps[len(paints)]
	var rec func(axis int)
	rec = func(axis int) {
		if axis == len(logs) {
			s.lab = append(s.lab, l.colour(paints, logs))
			return
		}
		for i := range n {
			logs[axis] = latticeAt(i, n)
			rec(axis + 1)
		}
	}
	rec(0)
	return s
}

func latticeAt(i, n int) float64 { return latticeSpan * (2*float64(i)/float64(n-1) - 1) }

// colour is that of amounts given by their logarithms, the first's being 0.
func (l *lattice) colour(paints []int, logs []float64) colour.Lab {
	mix := l.paints[paints[0]]
	for i, x := range logs {
		c, p := math.Exp(x), &l.paints[paints[i+1]]
		for b := range mix.K {
			mix.K[b] += c * p.K[b]
			mix.S[b] += c * p.S[b]
		}
	}
	seen := mix.Masstone(film.Dry)
	return colour.D65().Lab(&seen)
}

// across is the side of the jump: the vectors of chroma are stretched alike in a,
// which leaves the sign of their product. It is 0 where hues differ by less than a
// right angle.
func across(lab, target colour.Lab) float64 {
	if lab.A*target.A+lab.B*target.B >= 0 {
		return 0
	}
	return target.A*lab.B - target.B*lab.A
}

// found is the end of one way downhill.
type found struct {
	paints []int
	logs   []float64
	de     float64
}

// nearest is the nearest mix to a target of at most limit paints.
func (l *lattice) nearest(target colour.Lab, limit int, rng *rand.Rand) found {
	best := found{de: math.Inf(1)}
	var ways []way
	for size := 1; size <= min(limit, len(l.paints)); size++ {
		supports := l.of(size)
		for i := range supports {
			ways = (&walk{lattice: l, support: &supports[i], target: target, best: &best, rng: rng}).ways(ways)
		}
	}
	slices.SortStableFunc(ways, func(v, w way) int { return cmp.Compare(v.from, w.from) })
	for _, w := range ways {
		if w.low <= best.de && best.de > latticeMet {
			w.walk()
		}
	}
	l.finish(&best, target)
	return best
}

// way is a start: its CIEDE2000, how low it may lead, and the walk from it.
type way struct {
	from, low float64
	walk      func()
}

// finish follows narrow valleys to their end by gonum's Nelder-Mead.
func (l *lattice) finish(best *found, target colour.Lab) {
	if len(best.logs) == 0 {
		return
	}
	problem := optimize.Problem{Func: func(x []float64) float64 {
		return colour.DE2000(l.colour(best.paints, x), target)
	}}
	r, err := optimize.Minimize(problem, best.logs, &optimize.Settings{FuncEvaluations: 600}, &optimize.NelderMead{SimplexSize: 0.1})
	if r != nil && (err == nil || r.F < best.de) && r.F < best.de {
		best.logs, best.de = r.X, r.F
	}
}

// walk is the search of one support.
type walk struct {
	*lattice
	support *lattices
	target  colour.Lab
	best    *found
	rng     *rand.Rand
}

func (w *walk) at(logs []float64) float64 {
	return colour.DE2000(w.colour(w.support.paints, logs), w.target)
}

// ways adds the ways from the samples that no neighbour betters on the same side of the
// jump, as low as the steps to their neighbours are large, and from the nearest places
// where the lattice crosses the jump.
func (w *walk) ways(out []way) []way {
	de, side := make([]float64, len(w.support.lab)), make([]float64, len(w.support.lab))
	for i, lab := range w.support.lab {
		de[i], side[i] = colour.DE2000(lab, w.target), across(lab, w.target)
	}
	axes, n := len(w.support.paints)-1, latticeSteps[len(w.support.paints)]
	step := 2 * latticeSpan / float64(n-1)
	for i, d := range de {
		steepest := 0.0
		if allNeighbours(i, axes, n, func(j int) bool {
			if side[i]*side[j] < 0 {
				return true
			}
			steepest = max(steepest, de[j]-d)
			return de[j] > d || de[j] == d && j > i
		}) {
			out = append(out, way{d, d - steepest, func() { w.follow(w.place(i), step, w.at) }})
		}
	}
	stride := 1
	for axis := axes - 1; axis >= 0; axis, stride = axis-1, stride*n {
		var crossings []way
		for i := range de {
			if i/stride%n < n-1 && side[i]*side[i+stride] < 0 {
				d := min(de[i], de[i+stride])
				crossings = append(crossings, way{d, d - latticeNear, func() { w.followEdge(w.place(i), axis, step) }})
			}
		}
		slices.SortStableFunc(crossings, func(v, w way) int { return cmp.Compare(v.from, w.from) })
		out = append(out, crossings[:min(len(crossings), latticeEdges)]...)
	}
	return out
}

// place are the logarithms of a sample.
func (w *walk) place(i int) []float64 {
	n := latticeSteps[len(w.support.paints)]
	logs := make([]float64, len(w.support.paints)-1)
	for k := len(logs) - 1; k >= 0; k, i = k-1, i/n {
		logs[k] = latticeAt(i%n, n)
	}
	return logs
}

// allNeighbours reports whether something holds of all samples that differ by a step along
// any axes, diagonals too.
func allNeighbours(i, axes, n int, holds func(j int) bool) bool {
	var rec func(axis, rest, scale, j int) bool
	rec = func(axis, rest, scale, j int) bool {
		if axis == axes {
			return j == i || holds(j)
		}
		for step := -1; step <= 1; step++ {
			if at := rest%n + step; at >= 0 && at < n && !rec(axis+1, rest/n, scale*n, j+step*scale) {
				return false
			}
		}
		return true
	}
	return rec(0, i, 1, i)
}

// follow tries steps either way along the last way that led nearer and axes at random,
// longer ones after success and shorter ones after a round without.
func (w *walk) follow(x []float64, step float64, at func(x []float64) float64) {
	try, way, low := make([]float64, len(x)), make([]float64, len(x)), at(x)
	for step > latticeLeast && len(x) > 0 && !(len(x) == len(w.support.paints)-1 && step < latticeClose && low > w.best.de+latticeHope) {
		from, nearer := slices.Clone(x), false
		for _, axis := range w.axes(way) {
			for _, by := range [...]float64{step, -step} {
				for k := range try {
					try[k] = x[k] + by*axis[k]
				}
				if d := at(try); d < low {
					copy(x, try)
					low, nearer = d, true
					break
				}
			}
		}
		for k := range way {
			way[k] = x[k] - from[k]
		}
		if nearer {
			step *= 1.3
		} else {
			step /= 2
		}
	}
	w.keep(x, low)
}

func (w *walk) keep(logs []float64, de float64) {
	if len(logs) == len(w.support.paints)-1 && de < w.best.de {
		*w.best = found{w.support.paints, slices.Clone(logs), de}
	}
}

// followEdge follows the jump from where the lattice crosses it along one axis: the
// logarithm of that axis is bisected for every choice of the others.
func (w *walk) followEdge(logs []float64, axis int, step float64) {
	others := slices.Delete(slices.Clone(logs), axis, axis+1)
	from := logs[axis]
	w.follow(others, step, func(others []float64) float64 {
		logs := slices.Insert(slices.Clone(others), axis, 0)
		side := func(x float64) float64 {
			logs[axis] = x
			return across(w.colour(w.support.paints, logs), w.target)
		}
		lo, hi := from-step/2, from+3*step/2
		below, above := side(lo), side(hi)
		for n := 0; below*above >= 0; n++ {
			if n == 3 {
				return math.Inf(1)
			}
			lo, hi = lo-step/2, hi+step/2
			below, above = side(lo), side(hi)
		}
		for range 18 {
			mid := (lo + hi) / 2
			if side(mid)*below > 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		low := math.Inf(1)
		for _, x := range [...]float64{lo, hi} {
			logs[axis] = x
			d := w.at(logs)
			w.keep(logs, d)
			low = min(low, d)
		}
		from = lo - step/2
		return low
	})
}

// axes are orthogonal axes of length 1, the first along a way unless that is 0, the
// others at random.
func (w *walk) axes(way []float64) [][]float64 {
	axes := make([][]float64, len(way))
	for i := range axes {
		axes[i] = slices.Clone(way)
		if i > 0 || dotOf(way, way) == 0 {
			for k := range way {
				axes[i][k] = w.rng.NormFloat64()
			}
		}
		for _, other := range axes[:i] {
			along := dotOf(other, axes[i])
			for k := range other {
				axes[i][k] -= along * other[k]
			}
		}
		length := math.Sqrt(dotOf(axes[i], axes[i]))
		for k := range axes[i] {
			axes[i][k] /= length
		}
	}
	return axes
}

func dotOf(p, q []float64) (sum float64) {
	for k := range p {
		sum += p[k] * q[k]
	}
	return sum
}
