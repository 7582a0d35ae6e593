package doubt

import (
	"context"

	"fewtubes/gamut"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
)

// Failing is a set of tubes that misses a target as the tubes stand, and the
// nearest it comes.
type Failing struct {
	Target int
	Tubes  set.Set
	Near   gamut.Mix
}

// Spared counts for each of some failing sets the boxes 1..n in which it reaches its
// target after all, by a quick look: it does so in no fewer.
func (b *Boxes) Spared(ctx context.Context, failing []Failing, n int) ([]int, error) {
	tubes := set.New(len(b.Tubes))
	near := make([]gamut.Near, len(failing))
	for i := range failing {
		tubes = set.Union(tubes, failing[i].Tubes)
		near[i] = b.Mixer.Near(&failing[i].Near)
	}
	reached := make([][]bool, n)
	err := b.Each(ctx, tubes, 1, n, func(box int, m *gamut.Mixer, _ []film.Paint) {
		in := make([]bool, len(failing))
		for i := range failing {
			f := &failing[i]
			in[i] = len(f.Near.Paints) > 0 && m.Resettles(b.Targets[f.Target], f.Tubes, near[i], b.Tolerance[f.Target])
		}
		reached[box-1] = in
	})
	out := make([]int, len(failing))
	for _, in := range reached {
		for i := range in {
			if in[i] {
				out[i]++
			}
		}
	}
	return out, err
}
