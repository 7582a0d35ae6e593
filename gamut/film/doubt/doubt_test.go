package doubt

import (
	"math"
	"testing"

	"fewtubes/gamut/colour"
)

// exp against the standard library's.
func TestExp(t *testing.T) {
	for x := -12.0; x <= 12; x += 0.0137 {
		if got, want := exp(x), math.Exp(x); math.Abs(got/want-1) > 1e-14 {
			t.Fatalf("exp(%g) is %g, not %g", x, got, want)
		}
	}
	if exp(0) != 1 {
		t.Errorf("exp(0) is %g", exp(0))
	}
}

// Twelve independent standard normal terms: mean, spread, tails and
// correlation of 4000 draws, within four standard errors.
func TestStandardTerms(t *testing.T) {
	const draws = 4000
	s := NewSource("yellow-ochre")
	var sum, square [Terms]float64
	var cross float64
	tails := 0
	for n := range draws {
		z := s.Standard(n + 1)
		for i, v := range z {
			sum[i] += v
			square[i] += v * v
			if math.Abs(v) > 2 {
				tails++
			}
		}
		cross += z[KShape] * z[SShape]
	}
	se := 1 / math.Sqrt(draws)
	for i := range sum {
		if m := sum[i] / draws; math.Abs(m) > 4*se {
			t.Errorf("term %d: mean %.3f", i, m)
		}
		if v := square[i] / draws; math.Abs(v-1) > 4*math.Sqrt2*se {
			t.Errorf("term %d: variance %.3f", i, v)
		}
	}
	if c := cross / draws; math.Abs(c) > 4*se {
		t.Errorf("correlation %.3f", c)
	}
	// 4.55 % of a normal variable lie beyond two standard deviations.
	if p := float64(tails) / draws / Terms; p < 0.040 || p > 0.050 {
		t.Errorf("%.4f beyond 2", p)
	}
}

// One draw to the last bit: the same on every processor, and from now on.
func TestDrawsNeverChange(t *testing.T) {
	z := NewSource("cobalt-blue").Standard(1)
	off := Spread{Strength: 0.45, Scattering: 0.4, KShape: 0.16, SShape: 0.4}.Deviation(&z)
	k, s := off.Factors()
	const middle = 17 // 550 nm
	for _, c := range []struct {
		what string
		got  float64
		want uint64
	}{
		{"strength", z[Strength], 0x3fe9ff05c7e00000},
		{"last term", z[Terms-1], 0xbfe85e1824800000},
		{"K", k[middle], 0x3ff4c5b6ccb7cdcf},
		{"S", s[middle], 0x3ffd25fa6f47c77c},
	} {
		if math.Float64bits(c.got) != c.want {
			t.Errorf("%s: %x, want %x", c.what, math.Float64bits(c.got), c.want)
		}
	}
}

// A spread is what its draws spread by: strength and shape at a middling band.
func TestDrawsHaveTheirSpread(t *testing.T) {
	const draws, middle = 4000, 17 // 550 nm
	s := NewSource("umber")
	spread := Spread{KShape: 0.3, SShape: 0.2, Scattering: 0.4}
	var k2, s2, across float64
	for n := range draws {
		z := s.Standard(n + 1)
		d := spread.Deviation(&z)
		k, sc := d.Logs()
		k2 += k[middle] * k[middle] / draws
		s2 += sc[middle] * sc[middle] / draws
		for b := 2; b <= 32; b++ {
			across += k[b] * k[b] / draws / 31
		}
	}
	if r := math.Sqrt(k2); r < 0.28 || r > 0.34 {
		t.Errorf("K spreads by %.3f at 550 nm", r)
	}
	if r, want := math.Sqrt(s2), math.Hypot(0.4, 0.21); r < want-0.03 || r > want+0.03 {
		t.Errorf("S spreads by %.3f at 550 nm, want %.3f", r, want)
	}
	if r := math.Sqrt(across); math.Abs(r-0.3) > 0.02 {
		t.Errorf("K spreads by %.3f over 400-700 nm", r)
	}
	var none Deviation
	k, sc := none.Factors()
	for b := range colour.Bands {
		if k[b] != 1 || sc[b] != 1 {
			t.Fatalf("no deviation changes band %d", b)
		}
	}
}

// Draws of terms that hang together have the covariance asked for, also where one term moves
// with another alone.
func TestDrawsThatHangTogether(t *testing.T) {
	const draws = 4000
	var cov Covariance
	for i := range cov {
		cov[i][i] = 0.04
	}
	cov[0][2], cov[2][0] = -0.03, -0.03
	cov[5][5], cov[5][6], cov[6][5] = 0.09, 0.06, 0.06 // 0.06^2 = 0.09 * 0.04: term 6 is term 5 by two thirds
	spread, s := Correlated(&cov), NewSource("sienna")
	if math.Abs(spread.Strength-0.2) > 1e-12 || math.Abs(spread.SShape-0.2) > 1e-12 {
		t.Errorf("%+v", spread)
	}
	var got Covariance
	for n := range draws {
		z := s.Standard(n + 1)
		d := spread.Deviation(&z)
		for i := range d {
			for j := range d {
				got[i][j] += d[i] * d[j] / draws
			}
		}
	}
	for i := range cov {
		for j := range cov {
			if se := math.Sqrt((cov[i][i]*cov[j][j] + cov[i][j]*cov[i][j]) / draws); math.Abs(got[i][j]-cov[i][j]) > 4.5*se {
				t.Errorf("%d %d: %.4f, want %.4f", i, j, got[i][j], cov[i][j])
			}
		}
	}
}

// Levelled, the level of ln K is spread by strength alone, that of ln K/S by scattering and the shape of S
// alone, and the two do not go together; the shape of K is left as wide.
func TestLevelled(t *testing.T) {
	const draws = 4000
	spread, s := Spread{Strength: 0.5, Scattering: 0.2, KShape: 0.6, SShape: 0.3}, NewSource("madder")
	level := func(v *[colour.Bands]float64) (m float64) {
		for b := 2; b <= 32; b++ {
			m += v[b] / 31
		}
		return m
	}
	measure := func(spread Spread) (k, ratio, cross, shape float64) {
		for n := range draws {
			z := s.Standard(n + 1)
			d := spread.Deviation(&z)
			lk, ls := d.Logs()
			mk, ms := level(&lk), level(&ls)
			k, ratio, cross = k+mk*mk/draws, ratio+(mk-ms)*(mk-ms)/draws, cross+mk*(mk-ms)/draws
			for b := 2; b <= 32; b++ {
				shape += (lk[b] - mk) * (lk[b] - mk) / 31 / draws
			}
		}
		return math.Sqrt(k), math.Sqrt(ratio), cross / math.Sqrt(k*ratio), math.Sqrt(shape)
	}
	_, noShape, _, _ := measure(Spread{Scattering: 0.2, SShape: 0.3})
	_, _, _, asWide := measure(spread)
	k, ratio, cross, shape := measure(spread.Levelled())
	if math.Abs(k-0.5) > 0.03 || math.Abs(ratio-noShape) > 0.02 || math.Abs(cross) > 0.06 || math.Abs(shape-asWide) > 0.02 {
		t.Errorf("K %.3f, K/S %.3f (%.3f), together %.3f, shape %.3f (%.3f)", k, ratio, noShape, cross, shape, asWide)
	}
	if twice := spread.Levelled().Levelled(); twice != spread.Levelled() && *twice.together != *spread.Levelled().together {
		t.Error("what is levelled is levelled again")
	}
}
