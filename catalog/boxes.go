package catalog

import (
	"fewtubes/gamut/film"
	"fewtubes/gamut/film/doubt"
)

// Boxes draws plausible boxes: the same tubes as they may be from other makers,
// each off by a draw of its doubt (package doubt). A tube's draws depend on its id,
// paint and doubt alone, so the other tubes may come and go; a mixture is
// mixed from the draws of its parts.
type Boxes struct{ tubes [][]drawn }

// drawn is a part of a tube that is drawn by itself.
type drawn struct {
	share  float64
	paint  film.Paint
	doubt  doubt.Spread
	source doubt.Source
}

// NewBoxes prepares the draws of some tubes.
func NewBoxes(tubes []Tube) *Boxes {
	b := &Boxes{make([][]drawn, len(tubes))}
	for i := range tubes {
		t := &tubes[i]
		parts := t.Parts
		if len(parts) == 0 {
			parts = []Part{{Tube: t.ID, Share: 1, Paint: t.Paint, Doubt: t.Doubt}}
		}
		for _, p := range parts {
			b.tubes[i] = append(b.tubes[i], drawn{p.Share, p.Paint, p.Doubt, doubt.NewSource(p.Tube)})
		}
	}
	return b
}

// Draw writes the paints of box n, from 1 on, into dst, one for each tube, in
// order. Box 0 holds the tubes as they stand. Draw may be called from several
// goroutines at once.
func (b *Boxes) Draw(n int, dst []film.Paint) {
	for i, parts := range b.tubes {
		var sum film.Paint
		for k := range parts {
			p := parts[k].draw(n)
			for band := range sum.K {
				sum.K[band] += float64(parts[k].share * p.K[band])
				sum.S[band] += float64(parts[k].share * p.S[band])
			}
		}
		dst[i] = sum
	}
}

func (d *drawn) draw(n int) film.Paint {
	p := d.paint
	if n != 0 {
		z := d.source.Standard(n)
		off := d.doubt.Deviation(&z)
		p.Deviate(&p, &off)
	}
	return p
}
