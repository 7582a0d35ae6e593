package check

import "math/big"

// number is what the proof is worked out in: rationals, and intervals that spare
// them where they can.
type number[T any] interface {
	of(x float64) T // exactly x
	plus(T) T
	minus(T) T
	times(T) T
	over(T) T // by something above 0
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
