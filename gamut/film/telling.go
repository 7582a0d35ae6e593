package film

import (
	"context"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// Telling is a mixture worth painting next.
type Telling struct {
	Mixture int     // of the candidates
	Left    float64 // of the variance of what is asked for, once it and those before it are read; 0..1
}

// Telling chooses, one after the other, up to n candidates that would teach most of the colours
// of some mixtures asked for, each read with the noise: the one that leaves the least of their
// variance in CIEDE2000, as far as it is the paints' and not the model's.
func (l *Learnt) Telling(ctx context.Context, candidates, asked []Mixture, noise float64, n int) ([]Telling, error) {
	c := l.outcomes(candidates, asked)
	whole := c.variance()
	used := make([]bool, len(candidates))
	var out []Telling
	for len(out) < min(n, len(candidates)) && whole > 0 {
		best, most, at := -1, 0.0, lookAhead{}
		for i := range candidates {
			if used[i] {
				continue
			}
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			ahead := c.ahead(i, l.teacher.miss(&candidates[i], noise))
			if gain := ahead.gain(c.asked) / whole; best < 0 || portable.Compare(gain, most, portable.Fine) > 0 {
				best, most, at = i, gain, ahead
			}
		}
		if most < portable.Fine {
			break
		}
		used[best] = true
		c.see(&at)
		out = append(out, Telling{best, c.variance() / whole})
	}
	return out, nil
}

// outcomes are the components of the colours of some mixtures, those asked for first, and their
// covariance as long as nothing more is seen.
type outcomes struct {
	asked int // components
	cov   [][]float64
}

func (l *Learnt) outcomes(candidates, asked []Mixture) *outcomes {
	paints := l.teacher.paints(l.at)
	var views []view
	for _, list := range [][]Mixture{asked, candidates} {
		for i := range list {
			v := l.teacher.look(&list[i], paints, -1, true)
			root := colour.Metric(v.lab)
			v.slope = v.through(&root)
			views = append(views, v)
		}
	}
	c := &outcomes{asked: 3 * len(asked)}
	for i := range views {
		for k := range 3 {
			full := make([]float64, len(l.at))
			for a, at := range views[i].index {
				full[at] = views[i].slope[k][a]
			}
			column, row := l.curve.solve(full), make([]float64, 0, 3*len(views))
			for j := range views {
				for m := range 3 {
					sum := 0.0
					for a, at := range views[j].index {
						sum += float64(views[j].slope[m][a] * column[at])
					}
					row = append(row, sum)
				}
			}
			c.cov = append(c.cov, row)
		}
	}
	return c
}

// variance is that of all that is asked for.
func (c *outcomes) variance() (sum float64) {
	for i := range c.asked {
		sum += c.cov[i][i]
	}
	return sum
}

// lookAhead is what would come off the covariance: of each component of a candidate, seen one
// after the other, the covariance with everything, and the variance of the reading.
type lookAhead struct {
	with [3][]float64
	by   [3]float64
}

func (c *outcomes) ahead(candidate int, miss float64) (a lookAhead) {
	for k := range 3 {
		at := c.asked + 3*candidate + k
		a.with[k] = append([]float64(nil), c.cov[at]...)
		for m := range k {
			subtract(a.with[k], a.with[m], a.with[m][at]/a.by[m])
		}
		a.by[k] = a.with[k][at] + float64(miss*miss/3) + 1e-9
	}
	return a
}

func (a *lookAhead) gain(asked int) (sum float64) {
	for k, with := range a.with {
		sum += product(with[:asked], with) / a.by[k]
	}
	return sum
}

// see takes off what was looked ahead to.
func (c *outcomes) see(a *lookAhead) {
	for k, with := range a.with {
		for i := range c.cov {
			subtract(c.cov[i], with, with[i]/a.by[k])
		}
	}
}
