package doubt

import (
	"context"
	"runtime"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
)

// Boxes are plausible boxes of some tubes, and the targets to mix from them.
type Boxes struct {
	Mixer     *gamut.Mixer // of the tubes as they stand
	Tubes     []catalog.Tube
	Targets   []colour.Lab
	Tolerance []float64 // per target
}

// Each opens boxes from..to, each once, and hands f a mixer of it and the tubes of the
// set as they are in it, on every processor. Tubes outside the set stand as they are. It
// ends early with the context's error.
func (b *Boxes) Each(ctx context.Context, tubes set.Set, from, to int, f func(box int, m *gamut.Mixer, drawn []film.Paint)) error {
	at := tubes.Members()
	some := make([]catalog.Tube, len(at))
	for k, i := range at {
		some[k] = b.Tubes[i]
	}
	draws := catalog.NewBoxes(some)
	parallel.Each(to-from+1, func(k int) {
		if ctx.Err() != nil {
			return
		}
		runtime.Gosched() // see mixing in package reach
		drawn := make([]film.Paint, len(at))
		draws.Draw(from+k, drawn)
		paints := make([]film.Paint, len(b.Tubes))
		for i := range paints {
			paints[i] = b.Tubes[i].Paint
		}
		for k, i := range at {
			paints[i] = drawn[k]
		}
		f(from+k, b.Mixer.Redrawn(paints), drawn)
	})
	return ctx.Err()
}
