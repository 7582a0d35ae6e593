package film

import (
	"errors"
	"math"
	"slices"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film/doubt"
	"fewtubes/gamut/portable"
)

// factorOfTwo is the standard deviation of a logarithm that counts as unknown.
var factorOfTwo = portable.Log(2)

// result reads the paints, residuals and uncertainties out of a finished fit.
func (f *fitter) result() (*Fitted, error) {
	out := &Fitted{Surface: f.opt.Surface, Paints: make([]FittedPaint, f.paints), Thickness: map[string]float64{}, Iterations: f.rounds, x: f.x, films: f.films}
	for k, name := range f.films {
		out.Thickness[name] = middlingFilm * portable.Exp(f.x[f.bandUnknowns()+k])
	}
	for p := range out.Paints {
		f.readPaint(&out.Paints[p], p)
	}
	out.Residuals = f.residuals()
	if err := f.judge(out); err != nil {
		return nil, err
	}
	unit := f.lengthUnit()
	if f.opt.Anchor >= 0 {
		out.Rescale(f.opt.Anchor)
	} else if unit != 1 {
		for p := range out.Paints {
			out.Paints[p].scale(1 / unit)
		}
		for name := range out.Thickness {
			out.Thickness[name] *= unit
		}
	}
	return out, nil
}

func (p *Paint) scale(by float64) {
	for b := range p.K {
		p.K[b] *= by
		p.S[b] *= by
	}
}

// Rescale divides K and S of every paint by S of one paint, band by band, so
// that it scatters 1. Opaque mixtures are unchanged; thicknesses lose their
// meaning and are dropped.
func (f *Fitted) Rescale(anchor int) {
	by := f.Paints[anchor].S
	for p := range f.Paints {
		for b := range by {
			f.Paints[p].K[b] /= by[b]
			f.Paints[p].S[b] /= by[b]
		}
	}
	f.Thickness = map[string]float64{}
}

// readPaint copies K and S out and holds the bands not read level.
func (f *fitter) readPaint(out *FittedPaint, p int) {
	first, last := f.covered[p][0], f.covered[p][1]
	for b := range colour.Bands {
		near := min(max(b, first), last)
		out.K[b] = portable.Exp(f.x[f.logK(p, near)])
		out.S[b] = portable.Exp(f.x[f.logS(p, near)])
	}
	for i := range f.readings {
		if f.amounts[i][p] > 0 {
			out.Readings++
			for b, have := range f.readings[i].Have {
				out.Measured[b] = out.Measured[b] || have
			}
		}
	}
}

// residuals compares each reading with its fit. Bands it lacks count alike in
// both, held level with the nearest it has.
func (f *fitter) residuals() []Residual {
	out := make([]Residual, len(f.readings))
	for i := range f.readings {
		r := &f.readings[i]
		var seen, fit colour.Spectrum
		for b := range seen {
			near := nearestBand(&r.Have, b)
			l, _, _ := f.layer(i, near, f.x)
			seen[b], fit[b] = r.Seen[near], f.opt.Surface.Seen(l.r)
		}
		measured, fitted := f.opt.Light.Lab(&seen), f.opt.Light.Lab(&fit)
		out[i] = Residual{Name: r.Name, Measured: measured, Fitted: fitted, DE: colour.DE2000(measured, fitted)}
	}
	return out
}

// judge gives each paint its residuals and what the curvature of the sum of
// squares leaves open. Readings that are met worse than the noise supposed
// widen the errors in proportion.
func (f *fitter) judge(out *Fitted) error {
	sys := newNormal(f.bandUnknowns(), 4*f.paints, len(f.films))
	f.assemble(f.x, sys)
	h, ok := sys.factor(1e-9)
	if !ok {
		return errors.New("film: the normal equations are singular")
	}
	widen := f.excess()
	unit := make([]float64, len(f.x))
	for p := range out.Paints {
		paint := &out.Paints[p]
		var des []float64
		for i := range f.readings {
			if f.amounts[i][p] > 0 {
				des = append(des, out.Residuals[i].DE)
			}
		}
		slices.Sort(des)
		paint.MedianDE, paint.MaxDE = median(des), des[len(des)-1]
		if f.opt.Quick {
			continue
		}
		first, last := f.covered[p][0], f.covered[p][1]
		var together [colour.Bands]float64 // covariance of log K and log S
		for b := range colour.Bands {
			near := min(max(b, first), last)
			var common float64
			paint.ErrorK[b], paint.ErrorS[b], common = h.deviations(unit, f.logK(p, near), f.logS(p, near))
			paint.ErrorK[b] *= widen
			paint.ErrorS[b] *= widen
			together[b] = widen * widen * common
			if paint.Measured[b] && paint.ErrorK[b] > factorOfTwo {
				paint.UnknownK++
			}
			if paint.Measured[b] && paint.ErrorS[b] > factorOfTwo {
				paint.UnknownS++
			}
		}
		paint.Doubt = paint.spread(&together)
		paint.NextSample = f.nextSample(paint, p)
	}
	return nil
}

// deviations are the square roots of two diagonal elements of the inverse and
// the element they share; unit is scratch, all zero.
func (h *factored) deviations(unit []float64, i, j int) (di, dj, shared float64) {
	unit[i] = 1
	column := h.solve(unit)
	di, shared = math.Sqrt(max(column[i], 0)), column[j]
	unit[i], unit[j] = 0, 1
	dj = math.Sqrt(max(h.solve(unit)[j], 0))
	unit[j] = 0
	return di, dj, shared
}

// spread puts what the readings leave open in the terms of a doubt: what errors
// of log K and log S have in common is strength, the rest are their shapes, each as in
// the middling band.
func (p *FittedPaint) spread(together *[colour.Bands]float64) doubt.Spread {
	var common, k, s []float64
	for b, measured := range p.Measured {
		if measured {
			c := max(together[b], 0)
			common = append(common, c)
			k, s = append(k, max(float64(p.ErrorK[b]*p.ErrorK[b])-c, 0)), append(s, max(float64(p.ErrorS[b]*p.ErrorS[b])-c, 0))
		}
	}
	middling := func(v []float64) float64 {
		slices.Sort(v)
		return math.Sqrt(median(v))
	}
	return doubt.Spread{Strength: middling(common), KShape: middling(k), SShape: middling(s)}
}

// excess is how many times the supposed noise the readings are missed by, at
// least 1.
func (f *fitter) excess() float64 {
	sum, n := 0.0, 0
	for i := range f.readings {
		for b := f.from; b < f.to; b++ {
			if f.readings[i].Have[b] {
				l, _, _ := f.layer(i, b, f.x)
				d := (lightness(f.opt.Surface.Seen(l.r)) - lightness(f.readings[i].Seen[b])) / f.opt.Noise
				sum += float64(d * d)
				n++
			}
		}
	}
	return max(1, math.Sqrt(sum/float64(n)))
}

// nextSample asks for a masstone where there is none, for a tint where S is
// open, for a thin film where K is.
func (f *fitter) nextSample(p *FittedPaint, index int) Sample {
	const several = 4 // bands
	alone, mixed := false, false
	for i := range f.readings {
		alone = alone || f.amounts[i][index] > 0.98
		mixed = mixed || f.amounts[i][index] > 0 && f.amounts[i][index] < 0.98
	}
	switch {
	case !alone:
		return NeedMasstone
	case p.UnknownS >= several && !mixed:
		return NeedTint
	case p.UnknownK >= several:
		return NeedFilm
	case p.UnknownS >= several:
		return NeedTint
	}
	return NoSample
}

// median of sorted values.
func median(sorted []float64) float64 {
	n := len(sorted)
	if n == 0 {
		return math.NaN()
	}
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}
