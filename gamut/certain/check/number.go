package check

import (
	"math"
	"math/big"
)

// number is what the proof is worked out in: intervals first, rationals where
// an interval cannot tell a sign.
type number[T any] interface {
	of(x float64) T // exactly x
	plus(T) T
	minus(T) T
	times(T) T
	over(T) T                    // by something above 0
	sign() (s int, decided bool) // -1, 0, 1
}

// interval holds a real between two float64s.
type interval struct{ lo, hi float64 }

func down(x float64) float64 { return math.Nextafter(x, math.Inf(-1)) }
func up(x float64) float64   { return math.Nextafter(x, math.Inf(1)) }

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

func (a interval) sign() (int, bool) {
	switch {
	case a.lo > 0:
		return 1, true
	case a.hi < 0:
		return -1, true
	}
	return 0, a.lo == 0 && a.hi == 0
}

// rational is exact.
type rational struct{ *big.Rat }

func (rational) of(x float64) rational       { return rational{new(big.Rat).SetFloat64(x)} }
func (a rational) plus(b rational) rational  { return rational{new(big.Rat).Add(a.Rat, b.Rat)} }
func (a rational) minus(b rational) rational { return rational{new(big.Rat).Sub(a.Rat, b.Rat)} }
func (a rational) times(b rational) rational { return rational{new(big.Rat).Mul(a.Rat, b.Rat)} }
func (a rational) over(b rational) rational  { return rational{new(big.Rat).Quo(a.Rat, b.Rat)} }
func (a rational) sign() (int, bool)         { return a.Sign(), true }
