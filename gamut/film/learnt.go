package film

import (
	"errors"
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film/doubt"
	"fewtubes/gamut/portable"
)

// result reads the paints and what is left of their doubt out of a finished learning.
func (t *teacher) result(z []float64) (*Learnt, error) {
	out := &Learnt{teacher: t, at: z, Paints: make([]LearntPaint, len(t.priors))}
	sys := newNormal(len(z), len(z)-1, 0)
	t.assemble(z, sys)
	var ok bool
	if out.curve, ok = sys.factor(0); !ok {
		return nil, errors.New("film: the normal equations are singular")
	}
	start := make([]float64, len(z))
	before, after := t.paints(start), t.paints(z)
	for i := range t.swatches {
		s := &t.swatches[i]
		for p, a := range s.Amounts {
			if a > 0 {
				out.Paints[p].Swatches++
			}
		}
		m := Met{Before: t.show(i, start, before, false).lab, After: t.show(i, z, after, false).lab, Weight: t.weight[i], Micrometres: t.thickness(i, z)}
		m.DEBefore, m.DE = colour.DE2000(m.Before, s.Seen), colour.DE2000(m.After, s.Seen)
		out.Swatches = append(out.Swatches, m)
	}
	white := out.commonWhite()
	for p := range out.Paints {
		out.judge(p, white)
	}
	return out, nil
}

// commonWhite is the white in most swatches; -1 if there is none.
func (l *Learnt) commonWhite() int {
	best := -1
	for p, is := range l.Paints {
		if l.teacher.priors[p].White && is.Swatches > 0 && (best < 0 || is.Swatches > l.Paints[best].Swatches) {
			best = p
		}
	}
	return best
}

// judge says what became of paint p: its terms, counted in what the white scatters (-1: as they
// are), what is left of the doubt about them, how strong it became and how surely.
func (l *Learnt) judge(p, white int) {
	paint, prior := &l.Paints[p], &l.teacher.priors[p]
	paint.Paint, paint.Doubt, paint.Strength, paint.Within = prior.Paint, prior.Doubt, 1, portable.Exp(prior.Doubt.Strength)
	if paint.Swatches == 0 {
		return
	}
	terms := l.counted(p, white)
	var cov doubt.Covariance
	for i, of := range terms {
		paint.Moved[i] = product(of, l.at)
		column := l.curve.solve(of)
		for j := range cov {
			cov[i][j] = product(terms[j], column)
		}
	}
	prior.Paint.Deviate(&paint.Paint, &paint.Moved)
	paint.Doubt = doubt.Correlated(&cov)
	paint.judgeStrength(&prior.Paint, &cov)
}

// counted are the twelve terms of paint p as sums of the unknowns. What is added to ln S of
// the white is taken off K and S of every paint, which no opaque mixture shows: g and l off g,
// its s off r and s.
func (l *Learnt) counted(p, white int) (terms [doubt.Terms][]float64) {
	factors := map[int]doubt.Covariance{p: l.teacher.doubts[p].Factor()}
	if white >= 0 {
		factors[white] = l.teacher.doubts[white].Factor()
	}
	add := func(to, paint, term int, by float64) {
		for j, v := range factors[paint][term] {
			terms[to][paint*doubt.Terms+j] += float64(by * v)
		}
	}
	for i := range terms {
		terms[i] = make([]float64, len(l.at))
		add(i, p, i, 1)
	}
	if white < 0 {
		return terms
	}
	add(doubt.Strength, white, doubt.Strength, -1)
	add(doubt.Strength, white, doubt.Scattering, -1)
	for i := range doubt.Gaussians {
		add(doubt.KShape+i, white, doubt.SShape+i, -1)
		add(doubt.SShape+i, white, doubt.SShape+i, -1)
	}
	return terms
}

// judgeStrength says how strong the paint is beside its prior and how surely: the mean of what
// its terms add to ln K, each band counted by what the prior absorbs there.
func (p *LearntPaint) judgeStrength(prior *Paint, cov *doubt.Covariance) {
	sum := 0.0
	for _, k := range prior.K {
		sum += k
	}
	var by doubt.Deviation
	for b, k := range prior.K {
		for i := range by {
			by[i] += float64(k / sum * basis[i].k[b])
		}
	}
	variance := 0.0
	for i := range by {
		variance += float64(by[i] * product(by[:], cov[i][:]))
	}
	p.Strength = portable.Exp(product(by[:], p.Moved[:]))
	p.Within = portable.Exp(math.Sqrt(max(variance, 0)))
}

// Foretold is the colour of a mixture that was not seen.
type Foretold struct {
	Lab colour.Lab // D65
	// Within is what nine in ten such mixtures lie within, CIEDE2000: what is left of the
	// doubt about the paints, and for paint in paint the error of the model.
	Within float64

	doubt [3][3]float64 // covariance of what is left, in components of CIEDE2000
}

// Foretell says what a mixture will look like. What the model misses tints and paints alone by is in
// what is left of their doubt, since swatches were not believed beyond it.
func (l *Learnt) Foretell(m *Mixture) Foretold {
	v := l.teacher.look(m, l.teacher.paints(l.at), -1, true)
	root := colour.Metric(v.lab)
	f := Foretold{Lab: v.lab, doubt: l.covariance(&v, &root)}
	model := 0.0
	if coloured, _ := l.teacher.kind(m); coloured > 1 {
		model = l.teacher.Model.Mixed
	}
	f.Within = f.WithinBeside(model)
	return f
}

// WithinBeside is Within if the model misses the mixture by this, root mean square CIEDE2000.
func (f *Foretold) WithinBeside(model float64) float64 {
	cov := f.doubt
	for i := range cov {
		cov[i][i] += float64(model * model / 3)
	}
	return nineInTen(&cov)
}

// covariance is that of a view's components in a metric.
func (l *Learnt) covariance(v *view, root *[3][3]float64) (cov [3][3]float64) {
	slopes := v.through(root)
	for i := range cov {
		full := make([]float64, len(l.at))
		for a, at := range v.index {
			full[at] = slopes[i][a]
		}
		column := l.curve.solve(full)
		for j := range cov {
			for a, at := range v.index {
				cov[i][j] += float64(slopes[j][a] * column[at])
			}
		}
	}
	return cov
}

// nineInTen is the length that nine in ten normal vectors of a covariance are below. Their
// square is taken for a multiple of chi-squared of the same mean and variance (Satterthwaite,
// Biometrics Bull. 2:110, 1946), whose quantile is Wilson and Hilferty's (Proc. Natl. Acad. Sci.
// 17:684, 1931).
func nineInTen(cov *[3][3]float64) float64 {
	trace, squares := 0.0, 0.0
	for i := range cov {
		trace += cov[i][i]
		for j := range cov {
			squares += float64(cov[i][j] * cov[j][i])
		}
	}
	if !(trace > 0) {
		return 0
	}
	const z = 1.2815515655446004 // nine tenths of a normal variable lie below
	by, freedom := squares/trace, trace*trace/squares
	h := 2 / (9 * freedom)
	root := 1 - h + float64(z*math.Sqrt(h))
	return math.Sqrt(by * freedom * root * root * root)
}
