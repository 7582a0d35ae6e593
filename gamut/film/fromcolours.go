package film

import (
	"fmt"
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// farTint is the CIEDE2000 miss of the tint beyond which two colours cannot
// belong to one tube.
const farTint = 5.0

// SwatchError says which of two colours belongs to no paint.
type SwatchError struct {
	Swatch string // masstone or tint
	Err    error
}

func (e *SwatchError) Error() string { return e.Swatch + ": " + e.Err.Error() }
func (e *SwatchError) Unwrap() error { return e.Err }

// FromColours makes a paint from two colours: its masstone and the tint of one
// volume of it in parts volumes of white. K/S comes from the reconstructed
// masstone; S is the smooth curve (log S quadratic in wavelength) that brings
// the tint to its colour. The masstone is met exactly, the tint as nearly as
// such a curve can. Basis of such a tube: estimated. Where a colour belongs to no
// paint the error is a *SwatchError.
func FromColours(masstone, tint colour.Lab, parts float64, white *Paint, light *colour.Light, surface Surface) (Paint, error) {
	if !(parts > 0) || math.IsInf(parts, 0) {
		return Paint{}, fmt.Errorf("film: a tint of 1 in %g parts", parts)
	}
	seen, err := Reconstruct(masstone, light, surface)
	if err != nil {
		return Paint{}, &SwatchError{"masstone", err}
	}
	if !tint.Finite() {
		return Paint{}, &SwatchError{"tint", ErrNoReflectance}
	}
	var q [colour.Bands]float64
	for b := range q {
		q[b] = Ratio(surface.Inside(seen[b]))
	}
	curve, miss := fitScattering(&q, tint, parts, white, light, surface)
	if miss > farTint {
		return Paint{}, &SwatchError{"tint", fmt.Errorf("no tint of this masstone in 1 to %g of white has that colour: the nearest is %.1f away", parts, miss)}
	}
	return curved(&q, curve), nil
}

// curved is the paint with the given K/S and log S = c0 + c1 u + c2 u^2, u
// running from -1 to 1 over the bands, K and S within their floors.
func curved(q *[colour.Bands]float64, c [3]float64) (p Paint) {
	for b := range q {
		u := 2*float64(b)/(colour.Bands-1) - 1
		s := min(max(portable.Exp(c[0]+float64(u*(c[1]+float64(u*c[2])))), FloorS), CeilS)
		p.S[b], p.K[b] = s, max(q[b]*s, FloorK)
	}
	return p
}

// fitScattering finds the curve by damped Gauss-Newton on the three Lab
// differences, with a weak pull of slope and curvature to none.
func fitScattering(q *[colour.Bands]float64, tint colour.Lab, parts float64, white *Paint, light *colour.Light, surface Surface) (c [3]float64, miss float64) {
	const pull = 0.3 // Lab units per unit of slope or curvature
	residuals := func(c [3]float64) (r [5]float64, de float64) {
		p := curved(q, c)
		seen := p.Tint(white, parts, surface)
		lab := light.Lab(&seen)
		r = [5]float64{lab.L - tint.L, lab.A - tint.A, lab.B - tint.B, pull * c[1], pull * c[2]}
		return r, colour.DE2000(lab, tint)
	}
	square := func(r [5]float64) (s float64) {
		for _, v := range r {
			s += float64(v * v)
		}
		return s
	}
	c[0] = priorLogS
	now, miss := residuals(c)
	damping := 1e-2
	for range 100 {
		var slope [3][5]float64
		normal, step := portable.NewMatrix(3), make([]float64, 3)
		for k := range c {
			const h = 1e-5
			moved := c
			moved[k] += h
			there, _ := residuals(moved)
			for i := range now {
				slope[k][i] = (there[i] - now[i]) / h
			}
			step[k] = product(slope[k][:], now[:])
			for j := range k + 1 {
				normal[j][k] = product(slope[j][:], slope[k][:])
				normal[k][j] = normal[j][k]
			}
			normal[k][k] += damping
		}
		if !normal.Solve(step) {
			break
		}
		trial := c
		for k := range trial {
			trial[k] -= min(max(step[k], -1), 1)
		}
		next, de := residuals(trial)
		if square(next) < square(now) {
			ended := square(now)-square(next) < 1e-12*square(now)
			c, now, miss = trial, next, de
			damping = max(damping/5, 1e-9)
			if ended {
				break
			}
			continue
		}
		if damping *= 5; damping > 1e9 {
			break
		}
	}
	return c, miss
}
