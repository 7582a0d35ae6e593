package film

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// assemble is the sum of squares at x; into sys, when given, go its normal
// equations.
func (f *fitter) assemble(x []float64, sys *normal) float64 {
	if sys != nil {
		sys.clear()
	}
	cost := 0.0
	for i := range f.readings {
		cost += f.addReading(i, x, sys)
	}
	return cost + f.addPriors(x, sys)
}

// addReading adds the L* residuals of one reading.
func (f *fitter) addReading(i int, x []float64, sys *normal) float64 {
	r := &f.readings[i]
	weight := math.Sqrt(f.weight[i]) / f.opt.Noise
	index := make([]int, 0, 2*f.paints+1)
	slope := make([]float64, 0, 2*f.paints+1)
	cost := 0.0
	for b := f.from; b < f.to; b++ {
		if !r.Have[b] {
			continue
		}
		l, k, s := f.layer(i, b, x)
		seen := f.opt.Surface.Seen(l.r)
		res := weight * (lightness(seen) - lightness(r.Seen[b]))
		cost += float64(res * res)
		if sys == nil {
			continue
		}
		chain := weight * lightnessSlope(seen) * f.opt.Surface.slope(l.r)
		index, slope = index[:0], slope[:0]
		for p, a := range f.amounts[i] {
			if a > 0 {
				index = append(index, f.logK(p, b), f.logS(p, b))
				slope = append(slope, chain*l.dK*a*k[p], chain*l.dS*a*s[p])
			}
		}
		if f.film[i] >= 0 {
			index = append(index, f.bandUnknowns()+f.film[i])
			slope = append(slope, chain*l.dLogX)
		}
		sys.add(index, slope, res)
	}
	return cost
}

// layer is the film of reading i in band b, with K and S of each paint there.
func (f *fitter) layer(i, b int, x []float64) (l layer, ks, ss []float64) {
	ks, ss = make([]float64, f.paints), make([]float64, f.paints)
	k, s := 0.0, 0.0
	for p, a := range f.amounts[i] {
		if a > 0 {
			ks[p], ss[p] = portable.Exp(x[f.logK(p, b)]), portable.Exp(x[f.logS(p, b)])
			k += float64(a * ks[p])
			s += float64(a * ss[p])
		}
	}
	if f.unit[i] == 0 {
		return opaqueLayer(k, s), ks, ss
	}
	thick := f.unit[i]
	if f.film[i] >= 0 {
		thick *= portable.Exp(x[f.bandUnknowns()+f.film[i]])
	}
	return overLayer(k, s, thick, f.inside[i][b]), ks, ss
}

// addPriors adds smoothness, the weak pull towards a middling paint, the
// anchor and the common middle of the thicknesses.
func (f *fitter) addPriors(x []float64, sys *normal) float64 {
	cost := 0.0
	row := func(res float64, index []int, slope []float64) {
		cost += float64(res * res)
		if sys != nil {
			sys.add(index, slope, res)
		}
	}
	anchor := anchorNearly
	if f.opaqueOnly() {
		anchor = held
	}
	for p := range f.paints {
		for b := f.from; b < f.to; b++ {
			k, s := f.logK(p, b), f.logS(p, b)
			row((x[k]-priorLogK)/priorSpreadK, []int{k}, []float64{1 / priorSpreadK})
			if p == f.opt.Anchor {
				row(x[s]/anchor, []int{s}, []float64{1 / anchor})
			} else {
				row((x[s]-priorLogS)/priorSpreadS, []int{s}, []float64{1 / priorSpreadS})
			}
			f.addSmoothness(p, b, x, row)
		}
	}
	for k := range f.films {
		i := f.bandUnknowns() + k
		row(x[i]/f.opt.Spread, []int{i}, []float64{1 / f.opt.Spread})
	}
	return cost
}

// addSmoothness joins band b of paint p to the two before it; where the paint
// was not read, to the one before it alone, and firmly.
func (f *fitter) addSmoothness(p, b int, x []float64, row func(float64, []int, []float64)) {
	first, last := f.covered[p][0], f.covered[p][1]
	for _, at := range []func(int, int) int{f.logK, f.logS} {
		switch {
		case b == f.from:
		case b > last || b <= first:
			i, j := at(p, b-1), at(p, b)
			row((x[j]-x[i])/held, []int{i, j}, []float64{-1 / held, 1 / held})
		case b >= first+2:
			h, i, j := at(p, b-2), at(p, b-1), at(p, b)
			w := 1 / f.opt.Smoothness
			row((x[h]-float64(2*x[i])+x[j])*w, []int{h, i, j}, []float64{w, -2 * w, w})
		}
	}
}

// lightness is L* of a neutral with this reflectance factor (CIE 015), a scale
// on which equal steps look about equal.
func lightness(r float64) float64 {
	return colour.XYZ{X: r, Y: r, Z: r}.Lab(colour.XYZ{X: 1, Y: 1, Z: 1}).L
}

func lightnessSlope(r float64) float64 {
	const kappa, epsilon = 24389.0 / 27, 216.0 / 24389
	if r <= epsilon {
		return kappa
	}
	return 116 / 3.0 / portable.Cbrt(r*r)
}
