package film

import (
	"context"
	"errors"
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film/doubt"
	"fewtubes/gamut/portable"
)

// teacher holds one learning: the unknowns are the terms of each paint's deviation, then
// the logarithm of the thickness of each film against what it was said to be, all in
// standard deviations of what is supposed of them, so that the prior of each is 1.
type teacher struct {
	*LearnOptions
	swatches []Swatch
	film     []int // of each swatch: the unknown of its thickness; -1 opaque
	unknowns int
	priors   []Prior
	doubts   []doubt.Spread       // of each prior, levelled
	shapes   [][doubt.Terms]shape // of each prior: what its unknowns add to ln K and ln S
	metric   [][3][3]float64      // of each swatch, around the colour seen
	weight   []float64            // of each swatch, 1 where none disagrees
}

func newTeacher(swatches []Swatch, priors []Prior, opt *LearnOptions) *teacher {
	t := &teacher{LearnOptions: opt, swatches: swatches, priors: priors, unknowns: len(priors) * doubt.Terms}
	for p := range priors {
		d := priors[p].Doubt.Levelled()
		t.doubts, t.shapes = append(t.doubts, d), append(t.shapes, shapesOf(d.Factor()))
	}
	for i := range swatches {
		film := -1
		if swatches[i].Ground != nil {
			film = t.unknowns
			t.unknowns++
		}
		t.film = append(t.film, film)
		t.metric, t.weight = append(t.metric, colour.Metric(swatches[i].Seen)), append(t.weight, 1)
	}
	return t
}

// of is the deviation of paint p.
func (t *teacher) of(z []float64, p int) doubt.Deviation {
	standard := doubt.Deviation(z[p*doubt.Terms : (p+1)*doubt.Terms])
	return t.doubts[p].Deviation(&standard)
}

// paints are all of them at z.
func (t *teacher) paints(z []float64) []Paint {
	out := make([]Paint, len(t.priors))
	for p := range out {
		d := t.of(z, p)
		t.priors[p].Paint.Deviate(&out[p], &d)
	}
	return out
}

// kind of a mixture: how many coloured paints are in it, and whether a white is.
func (t *teacher) kind(m *Mixture) (coloured int, white bool) {
	for p, a := range m.Amounts {
		if a > 0 && t.priors[p].White {
			white = true
		} else if a > 0 {
			coloured++
		}
	}
	return coloured, white
}

// miss is the root mean square CIEDE2000 that a swatch is missed by beside what its
// paints are off: its reading and the model.
func (t *teacher) miss(m *Mixture, noise float64) float64 {
	model := t.Model.Alone
	switch coloured, white := t.kind(m); {
	case coloured > 1:
		model = t.Model.Mixed
	case coloured == 1 && white:
		model = t.Model.Tint
	}
	return portable.Hypot(noise, model)
}

// shape is what is added to ln K and ln S in each band.
type shape struct{ k, s [colour.Bands]float64 }

// shapesOf are those of a factor's columns.
func shapesOf(l doubt.Covariance) (out [doubt.Terms]shape) {
	for i, row := range l {
		for j, v := range row {
			if v == 0 {
				continue
			}
			for b := range out[j].k {
				out[j].k[b] += float64(v * basis[i].k[b])
				out[j].s[b] += float64(v * basis[i].s[b])
			}
		}
	}
	return out
}

// basis is what one unit of each term adds to ln K and ln S.
var basis = func() (b [doubt.Terms]shape) {
	for i := range b {
		var unit doubt.Deviation
		unit[i] = 1
		b[i].k, b[i].s = unit.Logs()
	}
	return b
}()

// view is a mixture seen: its colour, and how the terms of its paints move that.
type view struct {
	lab   colour.Lab
	index []int        // the terms
	slope [3][]float64 // of L*, a*, b* by each of them
}

// thickness of swatch i at z, micrometres.
func (t *teacher) thickness(i int, z []float64) float64 {
	m := &t.swatches[i].Mixture
	if t.film[i] < 0 {
		return m.Micrometres
	}
	um := m.Micrometres * portable.Exp(z[t.film[i]]*t.Thickness)
	if _, white := t.kind(m); !white {
		um *= t.Clear
	}
	return um
}

// show sees swatch i at z.
func (t *teacher) show(i int, z []float64, paints []Paint, slopes bool) view {
	m := t.swatches[i].Mixture
	m.Micrometres = t.thickness(i, z)
	return t.look(&m, paints, t.film[i], slopes)
}

// look sees a mixture of the paints; film is the unknown of its thickness, -1 where it has
// none; slopes are left out where not asked for.
func (t *teacher) look(m *Mixture, paints []Paint, film int, slopes bool) (v view) {
	sum := 0.0
	for _, a := range m.Amounts {
		sum += a
	}
	light, surface := colour.D65(), t.Scale.Surface
	var seen, dK, dS, dX colour.Spectrum // and d seen / d K, d S, d ln thickness
	for b := range seen {
		k, s := 0.0, 0.0
		for p, a := range m.Amounts {
			if a > 0 {
				k += float64(a / sum * paints[p].K[b])
				s += float64(a / sum * paints[p].S[b])
			}
		}
		l := opaqueLayer(k, s)
		if m.Ground != nil {
			inside := min(max(surface.Inside(m.Ground[b]), 0), 1)
			l = overLayer(k, s, m.Micrometres/1000*t.Scale.WhiteMM[b], inside)
		}
		seen[b] = surface.Seen(l.r)
		chain := surface.slope(l.r)
		dK[b], dS[b], dX[b] = chain*l.dK, chain*l.dS, chain*l.dLogX
	}
	v.lab = light.Lab(&seen)
	if !slopes {
		return v
	}
	toLab := v.lab.Slopes(light.White)
	var weights [3]colour.Spectrum // d Lab / d seen
	for i := range weights {
		for b := range weights[i] {
			for k := range 3 {
				weights[i][b] += float64(toLab[i][k] * light.Weights[k][b])
			}
		}
	}
	add := func(term int, spread float64, moved *colour.Spectrum) {
		v.index = append(v.index, term)
		for i := range v.slope {
			v.slope[i] = append(v.slope[i], spread*product(weights[i][:], moved[:]))
		}
	}
	if film >= 0 {
		add(film, t.Thickness, &dX)
	}
	for p, a := range m.Amounts {
		if a == 0 {
			continue
		}
		var byK, byS colour.Spectrum // d seen / d ln K, d ln S of this paint
		for b := range byK {
			byK[b], byS[b] = float64(dK[b]*a/sum*paints[p].K[b]), float64(dS[b]*a/sum*paints[p].S[b])
		}
		for term := range doubt.Terms {
			if t.shapes[p][term] == (shape{}) {
				continue
			}
			var moved colour.Spectrum
			for b := range moved {
				moved[b] = float64(byK[b]*t.shapes[p][term].k[b]) + float64(byS[b]*t.shapes[p][term].s[b])
			}
			add(p*doubt.Terms+term, 1, &moved)
		}
	}
	return v
}

// inMetric turns a difference or slope in L*, a*, b* into components whose squares sum to
// that of CIEDE2000.
func inMetric(root *[3][3]float64, v [3]float64) (out [3]float64) {
	for i := range out {
		for k := range v {
			out[i] += float64(root[k][i] * v[k])
		}
	}
	return out
}

// through is inMetric of every slope.
func (v *view) through(root *[3][3]float64) (out [3][]float64) {
	for i := range out {
		out[i] = make([]float64, len(v.index))
	}
	for a := range v.index {
		for i, c := range inMetric(root, [3]float64{v.slope[0][a], v.slope[1][a], v.slope[2][a]}) {
			out[i][a] = c
		}
	}
	return out
}

func minus(p, q colour.Lab) [3]float64 { return [3]float64{p.L - q.L, p.A - q.A, p.B - q.B} }

// assemble is the sum of squares at z; into sys, when given, go its normal equations.
func (t *teacher) assemble(z []float64, sys *normal) (cost float64) {
	if sys != nil {
		sys.clear()
	}
	paints := t.paints(z)
	for i := range t.swatches {
		s := &t.swatches[i]
		v := t.show(i, z, paints, sys != nil)
		// A root mean square of the whole is the square root of three of each component's.
		by := math.Sqrt(3*t.weight[i]) / max(t.miss(&s.Mixture, s.Noise), leastMiss)
		residual := inMetric(&t.metric[i], minus(v.lab, s.Seen))
		var slopes [3][]float64
		if sys != nil {
			slopes = v.through(&t.metric[i])
		}
		for k, r := range residual {
			r *= by
			cost += float64(r * r)
			if sys != nil {
				for a := range slopes[k] {
					slopes[k][a] *= by
				}
				sys.add(v.index, slopes[k], r)
			}
		}
	}
	for i, v := range z {
		cost += float64(v * v)
		if sys != nil {
			sys.add([]int{i}, []float64{1}, v)
		}
	}
	return cost
}

// leastMiss keeps a reading said to be perfect from an infinite weight.
const leastMiss = 0.05

// Bounds of the terms, in standard deviations of the prior, of one step and of all.
const mostStep, mostMoved = 1.5, 6

// Swatches that contradict each other all over would be turned over without end.
const (
	firstRounds = 25
	nextRounds  = 8    // once more, with weights changed a little
	learnt      = 1e-5 // relative fall of the sum of squares that ends a lesson
)

// solve runs Levenberg-Marquardt from z, as the fit of readings does.
func (t *teacher) solve(ctx context.Context, z []float64, rounds int) error {
	sys := newNormal(len(z), len(z)-1, 0)
	trial := make([]float64, len(z))
	damping := 1e-3
	cost := t.assemble(z, sys)
	for range rounds {
		if err := ctx.Err(); err != nil {
			return err
		}
		step, ok := sys.solve(damping)
		if !ok {
			return errors.New("film: the normal equations are singular")
		}
		for i, d := range step {
			trial[i] = min(max(z[i]-min(max(d, -mostStep), mostStep), -mostMoved), mostMoved)
		}
		next := t.assemble(trial, nil)
		if !(next < cost) {
			if damping *= 8; damping > 1e12 {
				return nil
			}
			continue
		}
		fall := (cost - next) / cost
		copy(z, trial)
		if damping = max(damping/6, 1e-9); fall < learnt {
			return nil
		}
		cost = t.assemble(z, sys)
	}
	return nil
}

// discountOutliers repeats the learning with weights 1 / (1 + (miss/expected/Outlier)^2)
// (Cauchy's, as in fitter.discountOutliers).
func (t *teacher) discountOutliers(ctx context.Context, z []float64) error {
	const passes, alike = 3, 0.05
	for range passes {
		change := 0.0
		paints := t.paints(z)
		for i := range t.swatches {
			s := &t.swatches[i]
			lab := t.show(i, z, paints, false).lab
			off := colour.DE2000(lab, s.Seen) / max(t.miss(&s.Mixture, s.Noise), leastMiss) / t.Outlier
			weight := 1 / (1 + float64(off*off))
			change = max(change, math.Abs(weight-t.weight[i]))
			t.weight[i] = weight
		}
		if change < alike {
			return nil
		}
		if err := t.solve(ctx, z, nextRounds); err != nil {
			return err
		}
	}
	return nil
}
