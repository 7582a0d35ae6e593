package catalog

import (
	"fewtubes/gamut/film"
	"fewtubes/gamut/film/doubt"
)

// Part is one tube within a mixture sold or kept as a tube.
type Part struct {
	Tube  string  // id
	Share float64 // of the volume; the shares of a mixture sum to 1
	Paint film.Paint
	Doubt doubt.Spread
}

// MixOf makes t a mixture of other tubes: its paint and its parts, none of which
// is a mixture itself. amounts are volumes, > 0, one for each tube.
func (t *Tube) MixOf(tubes []*Tube, amounts []float64) {
	sum := 0.0
	for _, a := range amounts {
		sum += a
	}
	t.Parts = nil
	for i, of := range tubes {
		share := amounts[i] / sum
		if len(of.Parts) == 0 {
			t.addPart(Part{Tube: of.ID, Share: share, Paint: of.Paint, Doubt: of.Doubt})
		}
		for _, p := range of.Parts {
			p.Share *= share
			t.addPart(p)
		}
	}
	paints, shares := make([]film.Paint, len(t.Parts)), make([]float64, len(t.Parts))
	for i, p := range t.Parts {
		paints[i], shares[i] = p.Paint, p.Share
	}
	film.Mix(&t.Paint, paints, shares)
}

// addPart joins what is of one tube.
func (t *Tube) addPart(p Part) {
	for i := range t.Parts {
		if t.Parts[i].Tube == p.Tube {
			t.Parts[i].Share += p.Share
			return
		}
	}
	t.Parts = append(t.Parts, p)
}
