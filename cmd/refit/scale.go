package main

import (
	"fmt"
	"math"
	"slices"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
)

// whiteShare is S of titanium white by band over its geometric mean. K and S
// found without it, per film, count against the same amount of light scattered in
// every band; those of the catalogue against what titanium white scatters there.
func (p *published) whiteShare() (share [colour.Bands]float64) {
	mean := 0.0
	for _, s := range p.scale.WhiteMM {
		mean += portable.Log(s) / colour.Bands
	}
	for b, s := range p.scale.WhiteMM {
		share[b] = s / portable.Exp(mean)
	}
	return share
}

// twin is one pigment that stands both among the oils and among the acrylics.
type twin struct{ oil, acrylic string }

var twins = []twin{{"CobaltBlue", "PB28"}, {"UltramarineBlue", "PB29"}, {"BoneBlack", "PBk9"}}

// ontoScale brings paints fitted per film to the catalogue's scale: band by band
// by the white's share, then all by one number, which makes the twins as strong as
// the acrylics in the geometric mean.
func (p *published) ontoScale(fitted map[string]*film.Paint) (map[string]*film.Paint, error) {
	share := p.whiteShare()
	out := map[string]*film.Paint{}
	for name, q := range fitted {
		shared := *q
		for b := range share {
			shared.K[b] /= share[b]
			shared.S[b] /= share[b]
		}
		out[name] = &shared
	}
	mean := 0.0
	for _, t := range twins {
		oil, acrylic := out[t.oil], p.sets[berns][t.acrylic]
		if oil == nil || acrylic == nil {
			return nil, fmt.Errorf("%s or %s was not read", t.oil, t.acrylic)
		}
		mean += absorption(oil, acrylic) / float64(len(twins))
	}
	for name, q := range out {
		scaled := times(q, portable.Exp(-mean))
		out[name] = &scaled
	}
	return out, nil
}

// absorption is the median over bands of log(K of a / K of b), where b absorbs
// more than in its middling band: the strength a painter sees in a tint.
func absorption(a, b *film.Paint) float64 {
	sorted := slices.Clone(b.K[:])
	slices.Sort(sorted)
	middle := sorted[len(sorted)/2]
	var logs []float64
	for i := range b.K {
		if b.K[i] >= middle {
			logs = append(logs, portable.Log(a.K[i]/b.K[i]))
		}
	}
	return median(logs)
}

// times scales K and S together, within their floors and ceilings.
func times(p *film.Paint, by float64) (out film.Paint) {
	for b := range p.K {
		out.K[b] = min(max(p.K[b]*by, film.FloorK), film.CeilK)
		out.S[b] = min(max(p.S[b]*by, film.FloorS), film.CeilS)
	}
	return out
}

// meanPaint is the mean of paints in log K and log S.
func meanPaint(paints []*film.Paint) (out film.Paint) {
	n := float64(len(paints))
	for b := range out.K {
		k, s := 0.0, 0.0
		for _, p := range paints {
			k += portable.Log(p.K[b]) / n
			s += portable.Log(p.S[b]) / n
		}
		out.K[b], out.S[b] = portable.Exp(k), portable.Exp(s)
	}
	return out
}

// median of values in any order; NaN of none.
func median(v []float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	v = slices.Sorted(slices.Values(v))
	return (v[(len(v)-1)/2] + v[len(v)/2]) / 2
}

func mean(v []float64) (m float64) {
	for _, x := range v {
		m += x / float64(len(v))
	}
	return m
}
