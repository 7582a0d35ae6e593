package check

import (
	"math"
	"math/big"
)

// number is what the proof is worked out in: rationals, and intervals that spare
// them where they can.
type number[T any] interface {
	of(x float64) T // exactly x
	plus(T) T
	minus(T) T
	times(T) T
	over(T) T // by something above 0
}

// interval holds a real between two float64s.
type interval struct{ lo, hi float64 }

// down and up move a result past the rounding of one operation, which is below
// 2^-53 of it; what is not finite becomes no number, of which nothing is proved.
func down(x float64) float64 { return float64(x) - (float64(math.Abs(x)*0x1p-52) + 0x1p-1000) }
func up(x float64) float64   { return float64(x) + (float64(math.Abs(x)*0x1p-52) + 0x1p-1000) }

func (interval) of(x float64) interval       { return interval{x, x} }
func (a interval) plus(b interval) interval  { return interval{down(a.lo + b.lo), up(a.hi + b.hi)} }
func (a interval) minus(b interval) interval { return interval{down(a.lo - b.hi), up(a.hi - b.lo)} }

func (a interval) times(b interval) interval {
	p, q, r, s := a.lo*b.lo, a.lo*b.hi, a.hi*b.lo, a.hi*b.hi
	return interval{down(min(p, q, r, s)), up(max(p, q, r, s))}
}

func (a interval) over(b interval) interval {
	if !(b.lo > 0) {
		return interval{math.Inf(-1), math.Inf(1)}
	}
	p, q, r, s := a.lo/b.lo, a.lo/b.hi, a.hi/b.lo, a.hi/b.hi
	return interval{down(min(p, q, r, s)), up(max(p, q, r, s))}
}

// rational is exact. Those of a hostile certificate grow without bound: what is
// worked out from them is counted first.
type rational struct {
	*big.Rat
	meter *meter
}

func (a rational) of(x float64) rational {
	a.meter.spend(perRational)
	return rational{new(big.Rat).SetFloat64(x), a.meter}
}

func (a rational) plus(b rational) rational  { return a.with(b, (*big.Rat).Add) }
func (a rational) minus(b rational) rational { return a.with(b, (*big.Rat).Sub) }
func (a rational) times(b rational) rational { return a.with(b, (*big.Rat).Mul) }
func (a rational) over(b rational) rational  { return a.with(b, (*big.Rat).Quo) }

func (a rational) with(b rational, op func(z, x, y *big.Rat) *big.Rat) rational {
	words := a.words() + b.words()
	a.meter.spend(perRational + words*(perWord+words*perWords))
	return rational{op(new(big.Rat), a.Rat, b.Rat), a.meter}
}

// words are those of 64 bits that a number takes.
func (a rational) words() Work { return Work(a.Num().BitLen()/64 + a.Denom().BitLen()/64 + 2) }
