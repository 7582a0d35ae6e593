package check

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// Reaches proves the contrary of a claim: that the paints, mixed in these amounts
// >= 0, come within the tolerance. false says nothing.
func (c *Claim) Reaches(amounts []float64) bool {
	light, err := colour.ParseLight(c.Light)
	if err != nil || c.Sane() != nil || len(amounts) != len(c.Paints) || !finite(false, amounts...) {
		return false
	}
	var seen [3]interval
	for b := range colour.Bands {
		r, ok := c.seen(amounts, b)
		if !ok {
			return false
		}
		for k := range seen {
			seen[k] = seen[k].plus(r.times(point(light.Weights[k][b])))
		}
	}
	f := [3]interval{}
	for k, white := range [3]float64{light.White.X, light.White.Y, light.White.Z} {
		f[k] = cubeRoot(seen[k].over(point(white)))
	}
	at := box{
		point(116).times(f[1]).minus(point(16)),
		point(500).times(f[0].minus(f[1])),
		point(200).times(f[1].minus(f[2])),
	}
	return differenceFrom(c.Target).squared(at).v.hi <= down(float64(c.Tolerance*c.Tolerance))
}

// seen is the reflectance of one band through the surface.
func (c *Claim) seen(amounts []float64, b int) (interval, bool) {
	var k, s interval
	for i, amount := range amounts {
		if amount < 0 {
			return interval{}, false
		}
		k = k.plus(point(amount).times(point(c.Paints[i].K[b])))
		s = s.plus(point(amount).times(point(c.Paints[i].S[b])))
	}
	if !(s.lo > 0) {
		return interval{}, false
	}
	q := k.over(s)
	r := func(q interval) interval { // falls with q: r = 1/(1 + q + sqrt(q (q + 2)))
		return point(1).over(point(1).plus(q).plus(q.times(q.plus(point(2))).root()))
	}
	within := interval{r(point(q.hi)).lo, r(point(q.lo)).hi}
	surface := rowsIn(&Certificate{Claim: *c}, nil, interval{})
	return interval{surface.seen(point(within.lo)).lo, surface.seen(point(within.hi)).hi}, true
}

// cubeRoot is f of CIE 015, section 8.2.1, guessed by a library and held against its
// inverse.
func cubeRoot(t interval) interval {
	guess := func(t float64) float64 {
		if t > 0 && t > knee.lo*knee.lo*knee.lo {
			return portable.Cbrt(t)
		}
		return t/(3*knee.lo*knee.lo) + 4.0/29
	}
	const room = 1e-13
	low, high := guess(t.lo)-room, guess(t.hi)+room
	if !(cubed(low).hi <= t.lo) {
		low = math.Inf(-1)
	}
	if !(cubed(high).lo >= t.hi) {
		high = math.Inf(1)
	}
	return interval{low, high}
}
