package portable

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// The same functions in 240 bits of math/big, by their series: what a function
// here may miss is counted in units in the last place of the true value.

const precision = 240

func number(x float64) *big.Float { return new(big.Float).SetPrec(precision).SetFloat64(x) }

func fresh() *big.Float { return new(big.Float).SetPrec(precision) }

// bigExp halves its argument until the series is short, and squares.
func bigExp(x *big.Float) *big.Float {
	halvings := max(0, x.MantExp(nil)+20)
	r := fresh().SetMantExp(x, -halvings)
	sum, term := number(1), number(1)
	for n := 1.0; n < 20; n++ {
		term.Mul(term, r).Quo(term, number(n))
		sum.Add(sum, term)
	}
	for range halvings {
		sum.Mul(sum, sum)
	}
	return sum
}

// bigLog is Newton's method on bigExp.
func bigLog(x *big.Float) *big.Float {
	mantissa := fresh()
	k := x.MantExp(mantissa)
	m, _ := mantissa.Float64()
	y := number(math.Log(m))
	for range 4 { // y += 2 (m - e^y) / (m + e^y)
		e := bigExp(y)
		d := fresh().Sub(mantissa, e)
		d.Quo(d.Mul(d, number(2)), fresh().Add(mantissa, e))
		y.Add(y, d)
	}
	if k == 0 {
		return y
	}
	if mantissa.Cmp(number(0.5)) == 0 {
		return fresh().Mul(y, number(1-float64(k)))
	}
	return y.Add(y, fresh().Mul(bigLog(number(2)), number(float64(k))))
}

// bigArctan goes to half the angle until the series is short.
func bigArctan(x *big.Float) *big.Float {
	x = fresh().Set(x)
	doublings := 0
	for x.Sign() != 0 && x.MantExp(nil) > -20 { // x / (1 + sqrt(1 + x^2))
		d := fresh().Mul(x, x)
		d.Sqrt(d.Add(d, number(1)))
		x.Quo(x, d.Add(d, number(1)))
		doublings++
	}
	square, term, sum := fresh().Mul(x, x), fresh().Set(x), fresh().Set(x)
	for n := 3.0; n < 20; n += 2 {
		term.Neg(term.Mul(term, square))
		sum.Add(sum, fresh().Quo(term, number(n)))
	}
	return fresh().SetMantExp(sum, doublings)
}

var bigPi = fresh().Mul(number(4), bigArctan(number(1)))

// bigSincos takes quarter turns off, halves the rest three times and doubles back.
func bigSincos(x float64) (sin, cos *big.Float) {
	quarter := fresh().Quo(bigPi, number(2))
	n := math.Round(x / (math.Pi / 2))
	r := fresh().Sub(number(x), fresh().Mul(quarter, number(n)))
	square, term := fresh().Mul(r, r), fresh().Set(r)
	sin, cos = fresh().Set(r), number(1)
	power := number(1)
	for n := 2.0; n < 60; n += 2 {
		power.Neg(power.Quo(power.Mul(power, square), number(n*(n-1))))
		cos.Add(cos, power)
		term.Neg(term.Quo(term.Mul(term, square), number(n*(n+1))))
		sin.Add(sin, term)
	}
	switch int(n) & 3 {
	case 1:
		sin, cos = cos, sin.Neg(sin)
	case 2:
		sin, cos = sin.Neg(sin), cos.Neg(cos)
	case 3:
		sin, cos = cos.Neg(cos), sin
	}
	return sin, cos
}

func less(x *big.Float, by float64) *big.Float { return fresh().Sub(x, number(by)) }

// missed is the difference in units in the last place of want.
func missed(got float64, want *big.Float) float64 {
	w, _ := want.Float64()
	if math.IsInf(w, 0) && got == w {
		return 0
	}
	unit := math.Nextafter(math.Abs(w), math.Inf(1)) - math.Abs(w)
	d, _ := fresh().Sub(number(got), want).Float64()
	return math.Abs(d) / unit
}

func TestUnitsInTheLastPlace(t *testing.T) {
	rng := rand.New(rand.NewPCG(754, 2019))
	between := func(low, high float64) func() float64 {
		return func() float64 { return low + (high-low)*rng.Float64() }
	}
	scales := func(low, high float64) func() float64 {
		return func() float64 { return math.Pow(10, low+(high-low)*rng.Float64()) }
	}
	signed := func(f func() float64) func() float64 {
		return func() float64 { return math.Copysign(f(), rng.Float64()-0.5) }
	}
	one := func(f func(*big.Float) *big.Float) func(float64) *big.Float {
		return func(x float64) *big.Float { return f(number(x)) }
	}
	sinh := func(x float64) *big.Float {
		e := bigExp(number(x))
		return fresh().Quo(e.Sub(e, fresh().Quo(number(1), e)), number(2))
	}
	tanh := func(x float64) *big.Float {
		e := bigExp(number(2 * x))
		return fresh().Quo(less(e, 1), less(e, -1))
	}
	sin := func(x float64) *big.Float { s, _ := bigSincos(x); return s }
	cos := func(x float64) *big.Float { _, c := bigSincos(x); return c }
	power := func(y float64) func(x float64) *big.Float {
		return func(x float64) *big.Float {
			return bigExp(fresh().Mul(number(y), bigLog(number(x))))
		}
	}
	raised := func(y float64) func(x float64) float64 {
		return func(x float64) float64 { return Pow(x, y) }
	}
	for name, c := range map[string]struct {
		at    func() float64
		f     func(float64) float64
		truth func(float64) *big.Float
		most  float64
	}{
		"Exp":          {between(-30, 30), Exp, one(bigExp), 1},
		"Exp far":      {between(-740, 709), Exp, one(bigExp), 1},
		"Exp small":    {signed(scales(-18, 0)), Exp, one(bigExp), 1},
		"Expm1":        {signed(scales(-12, 1.5)), Expm1, func(x float64) *big.Float { return less(bigExp(number(x)), 1) }, 2},
		"Sinh":         {signed(scales(-8, 2.5)), Sinh, sinh, 3},
		"Tanh":         {signed(scales(-8, 1.5)), Tanh, tanh, 3},
		"Log":          {scales(-300, 300), Log, one(bigLog), 1},
		"Log near 1":   {between(0.5, 2), Log, one(bigLog), 1},
		"Log1p":        {scales(-12, 3), Log1p, func(x float64) *big.Float { return bigLog(less(number(x), -1)) }, 2},
		"Log1p below":  {between(-0.99, 0), Log1p, func(x float64) *big.Float { return bigLog(less(number(x), -1)) }, 2},
		"Log2":         {scales(-9, 9), Log2, func(x float64) *big.Float { return fresh().Quo(bigLog(number(x)), bigLog(number(2))) }, 2},
		"Pow 2.4":      {scales(-5, 5), raised(2.4), power(2.4), 1},
		"Pow 1/2.4":    {scales(-9, 9), raised(1 / 2.4), power(1 / 2.4), 1},
		"Pow far":      {scales(-30, 30), raised(9.5), power(9.5), 10},
		"Cbrt":         {signed(scales(-300, 300)), Cbrt, cubeRoot, 1},
		"Cbrt near 1":  {between(0.01, 8), Cbrt, cubeRoot, 1},
		"Hypot":        {signed(scales(-8, 8)), func(x float64) float64 { return Hypot(x, 3) }, length, 2},
		"Sin":          {between(-10, 10), Sin, sin, 1},
		"Cos":          {between(-10, 10), Cos, cos, 1},
		"Sin far":      {between(-mostTurned, mostTurned), Sin, sin, 1},
		"Cos far":      {between(-mostTurned, mostTurned), Cos, cos, 1},
		"Atan":         {signed(scales(-9, 9)), Atan, one(bigArctan), 2},
		"Atan to 2":    {between(-2, 2), Atan, one(bigArctan), 2},
		"Sin of turns": {func() float64 { return float64(rng.IntN(1000)) * math.Pi / 2 }, Sin, sin, 1},
	} {
		worst, at := 0.0, 0.0
		for range 1000 {
			x := c.at()
			if m := missed(c.f(x), c.truth(x)); !(m <= worst) {
				worst, at = m, x
			}
		}
		t.Logf("%-12s %.3f at %v", name, worst, at)
		if !(worst <= c.most) {
			t.Errorf("%s(%v) misses by %.2f ulp, allowed %v", name, at, worst, c.most)
		}
	}
}

// cubeRoot is Newton's method on the cube.
func cubeRoot(x float64) *big.Float {
	y := number(math.Cbrt(x))
	for range 3 {
		square := fresh().Mul(y, y)
		d := fresh().Sub(fresh().Mul(square, y), number(x))
		y.Sub(y, d.Quo(d, square.Mul(square, number(3))))
	}
	return y
}

func length(x float64) *big.Float {
	d := fresh().Mul(number(x), number(x))
	return d.Sqrt(d.Add(d, number(9)))
}
