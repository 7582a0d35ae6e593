package catalog

import (
	"math"
	"slices"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
)

// Off is how far the plausible tubes that go by one tube's name lie from it: two
// in three lie no farther.
type Off struct {
	Strength float64 // times as strong or as weak, at least 1
	Masstone float64 // CIEDE2000
	Tint     float64 // CIEDE2000, one part in SwatchParts of white, strength made up for
}

// offDraws are the boxes an Off is read from.
const offDraws = 300

// NewOff draws tubes and looks at them.
func NewOff(t *Tube, white *film.Paint, light *colour.Light, surface film.Surface) Off {
	boxes, drawn := NewBoxes([]Tube{*t}), make([]film.Paint, 1)
	masstone, tint := t.Paint.Masstone(surface), t.Paint.Tint(white, SwatchParts, surface)
	ofMasstone, ofTint := light.Lab(&masstone), light.Lab(&tint)
	var strengths, masstones, tints []float64
	for n := 1; n <= offDraws; n++ {
		boxes.Draw(n, drawn)
		p := &drawn[0]
		by := relativeStrength(p, &t.Paint)
		strengths = append(strengths, math.Abs(by))
		masstone, tint = p.Masstone(surface), p.Tint(white, SwatchParts*portable.Exp(by), surface)
		masstones = append(masstones, colour.DE2000(light.Lab(&masstone), ofMasstone))
		tints = append(tints, colour.DE2000(light.Lab(&tint), ofTint))
	}
	return Off{portable.Exp(twoInThree(strengths)), twoInThree(masstones), twoInThree(tints)}
}

// relativeStrength is the mean of log(K of p / K of q), each band counted by what
// q absorbs there.
func relativeStrength(p, q *film.Paint) float64 {
	sum, weight := 0.0, 0.0
	for b := range p.K {
		sum += float64(q.K[b] * portable.Log(p.K[b]/q.K[b]))
		weight += q.K[b]
	}
	return sum / weight
}

func twoInThree(v []float64) float64 {
	slices.Sort(v)
	return v[len(v)*2/3]
}
