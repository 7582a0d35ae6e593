package values

import (
	"math"
)

// Plan is a picture in few flat values.
type Plan struct {
	Levels []float64 // L*, darkest first
	Bounds []float64 // between them, one fewer
}

// NewPlan parts the values of a picture into n flat ones (2 or more) so that
// the squared error is least: an exact partition of the histogram by dynamic
// programming (Fisher, J. Am. Stat. Assoc. 53:789-798, 1958). A picture of fewer
// values has fewer levels.
func NewPlan(g Grey, n int) Plan {
	const bins = 101
	var count, sum [bins + 1]float64 // running totals
	var histogram [bins]float64
	for _, l := range g.L {
		histogram[int(math.Round(min(max(l, 0), 100)))]++
	}
	distinct := 0
	var square [bins + 1]float64
	for i, c := range histogram {
		v := float64(i)
		count[i+1], sum[i+1], square[i+1] = count[i]+c, sum[i]+float64(c*v), square[i]+float64(c*v*v)
		if c > 0 {
			distinct++
		}
	}
	n = min(n, distinct)
	cost := func(a, b int) float64 { // of one level for bins a..b-1
		c := count[b] - count[a]
		if c == 0 {
			return 0
		}
		s := sum[b] - sum[a]
		return square[b] - square[a] - s*s/c
	}
	best := make([][bins + 1]float64, n+1)
	from := make([][bins + 1]int, n+1)
	for b := range bins + 1 {
		best[0][b] = math.Inf(1)
	}
	best[0][0] = 0
	for k := 1; k <= n; k++ {
		for b := range bins + 1 {
			best[k][b] = math.Inf(1)
			for a := 0; a < b; a++ {
				if v := best[k-1][a] + cost(a, b); v < best[k][b] && count[b] > count[a] {
					best[k][b], from[k][b] = v, a
				}
			}
		}
	}
	p := Plan{Levels: make([]float64, n), Bounds: make([]float64, max(0, n-1))}
	for k, b := n, bins; k > 0; k-- {
		a := from[k][b]
		p.Levels[k-1] = (sum[b] - sum[a]) / (count[b] - count[a])
		if k > 1 {
			p.Bounds[k-2] = float64(a) - 0.5
		}
		b = a
	}
	return p
}

// Level is the index of the level a value falls in.
func (p Plan) Level(l float64) int {
	k := 0
	for k < len(p.Bounds) && l >= p.Bounds[k] {
		k++
	}
	return k
}

// Flatten puts every pixel on its level.
func (p Plan) Flatten(g Grey) Grey {
	out := Grey{g.W, g.H, make([]float64, len(g.L))}
	for i, l := range g.L {
		out.L[i] = p.Levels[p.Level(l)]
	}
	return out
}

// Shares are the parts of a picture on each level.
func (p Plan) Shares(g Grey) []float64 {
	out := make([]float64, len(p.Levels))
	for _, l := range g.L {
		out[p.Level(l)] += 1 / float64(len(g.L))
	}
	return out
}
