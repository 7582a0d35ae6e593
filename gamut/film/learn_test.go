package film

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film/doubt"

	"gonum.org/v1/gonum/mat"
)

// class is a white, a blue and a yellow of the kind the catalogue holds.
func class() (Scale, []Prior) {
	scale := Scale{Surface: Dry}
	var white, blue, yellow Paint
	for b := range white.K {
		nm := float64(colour.StartNM + b*colour.StepNM)
		scale.WhiteMM[b] = 600
		white.K[b], white.S[b] = 0.002, 1
		blue.K[b], blue.S[b] = 0.2+6/(1+math.Exp((500-nm)/25)), 0.2
		yellow.K[b], yellow.S[b] = 0.02+4/(1+math.Exp((nm-500)/15)), 0.4
	}
	return scale, []Prior{{white, doubt.Measured, true}, {blue, doubt.Measured, false}, {yellow, doubt.Chart, false}}
}

// drawn is a class as it may be in a box.
func drawn(priors []Prior, n int) []Paint {
	out := make([]Paint, len(priors))
	for p := range priors {
		z := doubt.NewSource(string(rune('a' + p))).Standard(n)
		d := priors[p].Doubt.Deviation(&z)
		priors[p].Paint.Deviate(&out[p], &d)
	}
	return out
}

// painted are some mixtures of the paints, read with an error.
func painted(scale Scale, paints []Paint, mixes []Mixture, noise float64, rng *rand.Rand) []Swatch {
	var out []Swatch
	for _, m := range mixes {
		var mix Paint
		Mix(&mix, paints, m.Amounts)
		sum := 0.0
		for _, a := range m.Amounts {
			sum += a
		}
		mix.scale(1 / sum)
		seen := mix.Masstone(scale.Surface)
		if m.Ground != nil {
			seen = scale.Film(&mix, m.Micrometres, m.Ground)
		}
		lab := colour.D65().Lab(&seen)
		if noise > 0 {
			root := colour.Metric(lab)
			v := [3]float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
			for i := 2; i >= 0; i-- {
				v[i] *= noise / math.Sqrt(3)
				for k := i + 1; k < 3; k++ {
					v[i] -= root[k][i] * v[k]
				}
				v[i] /= root[i][i]
			}
			lab = colour.Lab{L: lab.L + v[0], A: lab.A + v[1], B: lab.B + v[2]}
		}
		out = append(out, Swatch{Name: "patch", Mixture: m, Seen: lab, Noise: noise})
	}
	return out
}

func mixes(amounts ...[]float64) (out []Mixture) {
	for _, a := range amounts {
		out = append(out, Mixture{Amounts: a})
	}
	return out
}

// The slopes against differences, opaque and as a film, thickness among them.
func TestSlopesOfLearning(t *testing.T) {
	const h, within = 1e-5, 1e-4
	scale, priors := class()
	ground := colour.Flat(0.9)
	swatches := []Swatch{
		{Mixture: Mixture{Amounts: []float64{4, 1, 2}}, Seen: colour.Lab{L: 50}},
		{Mixture: Mixture{Amounts: []float64{0, 1, 0}, Ground: &ground, Micrometres: 20}, Seen: colour.Lab{L: 30}},
	}
	opt := DefaultLearn(scale)
	teach := newTeacher(swatches, priors, &opt)
	z := make([]float64, teach.unknowns)
	for i := range z {
		z[i] = 0.3 * math.Sin(float64(i))
	}
	for k := range swatches {
		v := teach.show(k, z, teach.paints(z), true)
		for a, i := range v.index {
			was := z[i]
			z[i] = was + h
			up := teach.show(k, z, teach.paints(z), false).lab
			z[i] = was - h
			down := teach.show(k, z, teach.paints(z), false).lab
			z[i] = was
			for c, d := range minus(up, down) {
				if got := v.slope[c][a]; math.Abs(got-d/(2*h)) > within*max(1, math.Abs(got)) {
					t.Errorf("swatch %d, unknown %d, component %d: %g, by differences %g", k, i, c, got, d/(2*h))
				}
			}
		}
	}
}

// Without a swatch everything stays as it was.
func TestNothingTaughtNothingLearnt(t *testing.T) {
	scale, priors := class()
	l, err := Learn(context.Background(), nil, priors, DefaultLearn(scale))
	if err != nil {
		t.Fatal(err)
	}
	for p, got := range l.Paints {
		if got.Paint != priors[p].Paint || got.Swatches != 0 || math.Abs(got.Doubt.Strength-priors[p].Doubt.Strength) > 1e-9 || math.Abs(got.Doubt.KShape-priors[p].Doubt.KShape) > 1e-9 {
			t.Errorf("paint %d moved: %+v", p, got.Doubt)
		}
	}
}

// The posterior against gonum's dense Cholesky: covariance of a foretold colour.
func TestPosteriorMatchesDense(t *testing.T) {
	scale, priors := class()
	swatches := painted(scale, drawn(priors, 1), mixes([]float64{0, 1, 0}, []float64{9, 1, 0}, []float64{1, 1, 1}), 1, rand.New(rand.NewPCG(1, 1)))
	l, err := Learn(context.Background(), swatches, priors, DefaultLearn(scale))
	if err != nil {
		t.Fatal(err)
	}
	n := len(l.at)
	dense := mat.NewSymDense(n, nil)
	for i := range n {
		for j, v := range l.curve.band.row(i) {
			dense.SetSym(i, i+j, v)
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(dense) {
		t.Fatal("not positive definite")
	}
	var inverse mat.SymDense
	if err := chol.InverseTo(&inverse); err != nil {
		t.Fatal(err)
	}
	m := Mixture{Amounts: []float64{2, 1, 1}}
	v := l.teacher.look(&m, l.teacher.paints(l.at), -1, true)
	root := colour.Metric(v.lab)
	got, slopes := l.covariance(&v, &root), v.through(&root)
	for i := range 3 {
		for j := range 3 {
			want := 0.0
			for a, x := range v.index {
				for c, y := range v.index {
					want += slopes[i][a] * inverse.At(x, y) * slopes[j][c]
				}
			}
			if math.Abs(got[i][j]-want) > 1e-9*max(1, math.Abs(want)) {
				t.Errorf("%d %d: %g, want %g", i, j, got[i][j], want)
			}
		}
	}
}

// Boxes drawn from the doubt, read with noise and no error of the model: colours not seen
// come nearer, nine in ten lie within what is said, strengths are known better, and all is counted in the white.
func TestSimulatedBoxesAreLearnt(t *testing.T) {
	const boxes, noise = 60, 1.0
	scale, priors := class()
	opt := DefaultLearn(scale)
	opt.Model = ModelError{}
	rng := rand.New(rand.NewPCG(3, 4))
	taught := mixes([]float64{1, 0, 0}, []float64{0, 1, 0}, []float64{9, 1, 0}, []float64{0, 0, 1}, []float64{9, 0, 1}, []float64{0, 1, 1})
	asked := mixes([]float64{4, 1, 0}, []float64{4, 0, 1}, []float64{2, 1, 1}, []float64{0, 1, 3}, []float64{6, 1, 2})
	before, after, inside, n := 0.0, 0.0, 0, 0
	for box := range boxes {
		truth := drawn(priors, box+1)
		l, err := Learn(context.Background(), painted(scale, truth, taught, noise, rng), priors, opt)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range painted(scale, truth, asked, 0, rng) {
			f := l.Foretell(&s.Mixture)
			was := l.teacher.look(&s.Mixture, l.teacher.paints(make([]float64, len(l.at))), -1, false).lab
			de := colour.DE2000(f.Lab, s.Seen)
			before, after = before+colour.DE2000(was, s.Seen), after+de
			if n++; de <= f.Within {
				inside++
			}
		}
		for p := range l.Paints {
			if is := &l.Paints[p]; !priors[p].White && is.Within > math.Exp(0.6*priors[p].Doubt.Strength) {
				t.Fatalf("box %d: strength of paint %d within %.2f", box, p, is.Within)
			}
			if d := l.Paints[p].Doubt; priors[p].White && priors[p].Paint.S != l.Paints[p].Paint.S {
				t.Fatalf("box %d: the white no longer scatters what it did: %+v", box, d)
			}
		}
	}
	share := float64(inside) / float64(n)
	t.Logf("mean CIEDE2000 %.1f before, %.1f after; %.2f inside", before/float64(n), after/float64(n), share)
	if after > 0.4*before || share < 0.85 || share > 0.95 {
		t.Errorf("mean CIEDE2000 %.2f before, %.2f after; %.2f inside", before/float64(n), after/float64(n), share)
	}
}

// What is left of a doubt, drawn again as the spread of it, scatters the colours of masstone and
// tint about as the whole of what was found does.
func TestSpreadStandsForWhatIsLeft(t *testing.T) {
	const draws, least, most = 400, 0.8, 1.25
	scale, priors := class()
	taught := mixes([]float64{0, 1, 0}, []float64{9, 1, 0}, []float64{0, 0, 1})
	opt := DefaultLearn(scale)
	opt.Model = ModelError{Alone: 1, Tint: 1, Mixed: 1}
	l, err := Learn(context.Background(), painted(scale, drawn(priors, 5), taught, 1, rand.New(rand.NewPCG(9, 9))), priors, opt)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range mixes([]float64{0, 1, 0}, []float64{9, 1, 0}, []float64{0, 0, 1}, []float64{9, 0, 1}) {
		v := l.teacher.look(&m, l.teacher.paints(l.at), -1, true)
		root := colour.Metric(v.lab)
		cov, sum := l.covariance(&v, &root), 0.0
		for n := range draws {
			paints := make([]Paint, len(priors))
			for p := range paints {
				paints[p] = l.Paints[p].Paint
				z := doubt.NewSource(string(rune('a' + p))).Standard(n + 1)
				d := l.Paints[p].Doubt.Deviation(&z)
				paints[p].Deviate(&paints[p], &d)
			}
			r := inMetric(&root, minus(l.teacher.look(&m, paints, -1, false).lab, v.lab))
			sum += product(r[:], r[:]) / draws
		}
		ratio := math.Sqrt(sum / (cov[0][0] + cov[1][1] + cov[2][2]))
		t.Logf("%v: drawn %.2f, found %.2f", m.Amounts, math.Sqrt(sum), math.Sqrt(cov[0][0]+cov[1][1]+cov[2][2]))
		if ratio < least || ratio > most {
			t.Errorf("%v: draws scatter %.2f times as far", m.Amounts, ratio)
		}
	}
}

// One swatch of another tube among six is found and counts little.
func TestASwatchThatDisagrees(t *testing.T) {
	scale, priors := class()
	truth := drawn(priors, 2)
	all := mixes([]float64{1, 0, 0}, []float64{0, 1, 0}, []float64{9, 1, 0}, []float64{4, 1, 0}, []float64{20, 1, 0}, []float64{0, 1, 1})
	swatches := painted(scale, truth, all, 0.5, rand.New(rand.NewPCG(5, 6)))
	swatches[3].Seen = colour.Lab{L: 60, A: 45, B: 20}
	l, err := Learn(context.Background(), swatches, priors, DefaultLearn(scale))
	if err != nil {
		t.Fatal(err)
	}
	for i := range l.Swatches {
		if got := l.Swatches[i].Disagrees(); got != (i == 3) {
			t.Errorf("swatch %d disagrees: %t (weight %.2f, missed by %.1f)", i, got, l.Swatches[i].Weight, l.Swatches[i].DE)
		}
	}
}

func TestSwatchesRefused(t *testing.T) {
	scale, priors := class()
	ground := colour.Flat(0.9)
	good := Swatch{Mixture: Mixture{Amounts: []float64{1, 0, 0}}, Seen: colour.Lab{L: 90}}
	for name, change := range map[string]func(*Swatch){
		"amounts":   func(s *Swatch) { s.Amounts = []float64{1} },
		"nothing":   func(s *Swatch) { s.Amounts = []float64{0, 0, 0} },
		"negative":  func(s *Swatch) { s.Amounts = []float64{-1, 2, 0} },
		"infinite":  func(s *Swatch) { s.Amounts = []float64{math.Inf(1), 0, 0} },
		"colour":    func(s *Swatch) { s.Seen.A = math.NaN() },
		"noise":     func(s *Swatch) { s.Noise = -1 },
		"thickness": func(s *Swatch) { s.Ground = &ground },
	} {
		bad := good
		change(&bad)
		if _, err := Learn(context.Background(), []Swatch{bad}, priors, DefaultLearn(scale)); !errors.Is(err, ErrSwatches) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Learn(context.Background(), nil, nil, DefaultLearn(scale)); !errors.Is(err, ErrSwatches) {
		t.Error(err)
	}
}

// Nine in ten of a chi variable: 2.5003 for three components of 1, 1.6449 for one (tables of
// chi-squared, 6.251 and 2.706).
func TestNineInTen(t *testing.T) {
	for _, c := range []struct {
		cov  [3][3]float64
		want float64
	}{
		{[3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, 2.5003},
		{[3][3]float64{{4, 0, 0}, {0, 0, 0}, {0, 0, 0}}, 3.2897},
	} {
		if got := nineInTen(&c.cov); math.Abs(got/c.want-1) > 0.015 {
			t.Errorf("%v: %.4f, want %.4f", c.cov, got, c.want)
		}
	}
}

// Forty tubes and two hundred swatches, as of a large box.
func BenchmarkLearn40Tubes200Swatches(b *testing.B) {
	scale, few := class()
	rng := rand.New(rand.NewPCG(7, 8))
	var priors []Prior
	for i := range 40 {
		priors = append(priors, few[min(i, 1+i%2)])
	}
	var all []Mixture
	for i := range 200 {
		m := Mixture{Amounts: make([]float64, 40)}
		m.Amounts[1+i%39] = 1
		if i > 78 {
			m.Amounts[1+rng.IntN(39)] += 1
		}
		if i > 38 {
			m.Amounts[0] = float64(rng.IntN(9))
		}
		all = append(all, m)
	}
	swatches := painted(scale, drawn(priors, 3), all, 2, rng)
	for b.Loop() {
		if _, err := Learn(context.Background(), swatches, priors, DefaultLearn(scale)); err != nil {
			b.Fatal(err)
		}
	}
}

// What is said to be left of the variance once a mixture is read is what a learning with it
// leaves, and of two the more telling is named first.
func TestTellingIsWhatLearningLeaves(t *testing.T) {
	const noise = 1.0
	ctx := context.Background()
	scale, priors := class()
	opt := DefaultLearn(scale)
	l, err := Learn(ctx, nil, priors, opt)
	if err != nil {
		t.Fatal(err)
	}
	candidates := mixes([]float64{1, 0, 0}, []float64{0, 1, 0}, []float64{9, 1, 0}, []float64{0, 1, 3})
	asked := mixes([]float64{5, 1, 0}, []float64{8, 1, 0})
	told, err := l.Telling(ctx, candidates, asked, noise, 3)
	if err != nil || len(told) == 0 {
		t.Fatal(told, err)
	}
	if told[0].Mixture != 2 {
		t.Errorf("first: %+v", told)
	}
	variance := func(l *Learnt) (sum float64) {
		for i := range asked {
			v := l.teacher.look(&asked[i], l.teacher.paints(l.at), -1, true)
			root := colour.Metric(v.lab)
			cov := l.covariance(&v, &root)
			sum += cov[0][0] + cov[1][1] + cov[2][2]
		}
		return sum
	}
	whole := variance(l)
	var swatches []Swatch
	opt.Outlier = 0
	for k, one := range told {
		m := candidates[one.Mixture]
		as := l.teacher.look(&m, l.teacher.paints(l.at), -1, false).lab // as foretold: nothing moves
		swatches = append(swatches, Swatch{Mixture: m, Seen: as, Noise: noise})
		then, err := Learn(ctx, swatches, priors, opt)
		if err != nil {
			t.Fatal(err)
		}
		if left := variance(then) / whole; math.Abs(left-one.Left) > 1e-6 {
			t.Errorf("after %d: %.6f is left, %.6f was said", k+1, left, one.Left)
		}
	}
}

// Counted in what the white scatters, the paints make the colours foretold.
func TestPaintsMakeWhatIsForetold(t *testing.T) {
	const within = 0.01
	scale, priors := class()
	taught := mixes([]float64{1, 0, 0}, []float64{0, 1, 0}, []float64{9, 1, 0}, []float64{0, 0, 1}, []float64{0, 1, 1})
	l, err := Learn(context.Background(), painted(scale, drawn(priors, 7), taught, 1, rand.New(rand.NewPCG(2, 9))), priors, DefaultLearn(scale))
	if err != nil {
		t.Fatal(err)
	}
	var paints []Paint
	for p := range l.Paints {
		paints = append(paints, l.Paints[p].Paint)
	}
	for _, m := range mixes([]float64{5, 1, 0}, []float64{3, 0, 1}, []float64{1, 2, 1}, []float64{0, 1, 0}) {
		f := l.Foretell(&m)
		got := painted(scale, paints, []Mixture{m}, 0, nil)[0].Seen
		if de := colour.DE2000(got, f.Lab); de > within {
			t.Errorf("%v: %.3f from what is foretold", m.Amounts, de)
		}
	}
}

// Learning in two lessons, the second from what the first left, comes near to learning at once:
// what two paints had in common is lost.
func TestLearningGoesOn(t *testing.T) {
	const nearer = 0.5
	ctx := context.Background()
	scale, priors := class()
	opt := DefaultLearn(scale)
	opt.Outlier = 0
	swatches := painted(scale, drawn(priors, 4), mixes([]float64{0, 1, 0}, []float64{9, 1, 0}, []float64{3, 1, 0}, []float64{20, 1, 0}), 0.5, rand.New(rand.NewPCG(4, 4)))
	learn := func(priors []Prior, swatches []Swatch) *Learnt {
		l, err := Learn(ctx, swatches, priors, opt)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	once, first := learn(priors, swatches), learn(priors, swatches[:2])
	next := make([]Prior, len(priors))
	for p := range next {
		next[p] = Prior{first.Paints[p].Paint, first.Paints[p].Doubt, priors[p].White}
	}
	twice := learn(next, swatches[2:])
	m := Mixture{Amounts: []float64{6, 1, 0}}
	whole, half, both := once.Foretell(&m), first.Foretell(&m), twice.Foretell(&m)
	was, is := colour.DE2000(half.Lab, whole.Lab), colour.DE2000(both.Lab, whole.Lab)
	t.Logf("from the whole: %.2f after the first lesson, %.2f after both; within %.1f, %.1f, %.1f", was, is, half.Within, both.Within, whole.Within)
	if is > nearer || both.Within > half.Within {
		t.Errorf("from the whole: %.2f after the first lesson, %.2f after both; within %.1f, then %.1f", was, is, half.Within, both.Within)
	}
}
