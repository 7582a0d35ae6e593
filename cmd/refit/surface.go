package main

import (
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
)

// alike is the ratio of K/S below which two reflectances are too near each
// other for their difference to tell how much a paint scatters.
const alike = 1.5

// tintParts of white to one of a paint in the tint that fixes S.
const tintParts = 9

// resurface brings paints whose white scatters 1 from the surface they were
// fitted under to another: of each, the masstone and the tint in nine of white
// keep their reflectance, and the white its own. Where a tint hardly differs
// from the masstone or the white, S changes as in the nearest bands where it does.
func resurface(paints map[string]*film.Paint, white string, from, to film.Surface) map[string]*film.Paint {
	ratio := func(p *film.Paint, parts float64) (q [colour.Bands]float64) {
		for b, seen := range p.Tint(paints[white], parts, from) {
			q[b] = film.Ratio(min(max(to.Inside(seen), 1e-4), 1-1e-9))
		}
		return q
	}
	whiteK := ratio(paints[white], 0)
	out := map[string]*film.Paint{}
	for name, p := range paints {
		alone, tint := ratio(p, 0), ratio(p, tintParts)
		var change [colour.Bands]float64 // of log S
		var told [colour.Bands]bool
		for b := range change {
			s := tintParts * (tint[b] - whiteK[b]) / (alone[b] - tint[b])
			if alone[b] > alike*tint[b] && tint[b] > alike*whiteK[b] {
				change[b], told[b] = portable.Log(s/p.S[b]), true
			}
		}
		q := *p
		for b := range q.S {
			q.S[b] *= portable.Exp(between(&change, &told, b))
			if name == white {
				q.S[b] = 1
			}
			q.K[b] = max(alone[b]*q.S[b], film.FloorK)
		}
		out[name] = &q
	}
	return out
}

// between is v at band b, or what lies between the nearest bands that are told.
func between(v *[colour.Bands]float64, told *[colour.Bands]bool, b int) float64 {
	lo, hi := b, b
	for lo >= 0 && !told[lo] {
		lo--
	}
	for hi < colour.Bands && !told[hi] {
		hi++
	}
	switch {
	case lo < 0 && hi == colour.Bands:
		return 0
	case lo < 0:
		return v[hi]
	case hi == colour.Bands, lo == hi:
		return v[lo]
	}
	u := float64(b-lo) / float64(hi-lo)
	return float64((1-u)*v[lo]) + float64(u*v[hi])
}
