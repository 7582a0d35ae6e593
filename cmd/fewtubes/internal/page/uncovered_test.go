package page

import (
	"testing"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/colour"
)

// A picture grey but for its lower left ninth, which is red: the grey stands for all
// but that; both for all of it.
func TestUncoveredIsSaid(t *testing.T) {
	t.Parallel()
	grey, red := colour.LinearRGB{R: 0.2, G: 0.2, B: 0.2}, colour.LinearRGB{R: 0.5}
	p := &photo.Picture{W: 240, H: 240, Pix: make([]colour.LinearRGB, 240*240)}
	for i := range p.Pix {
		p.Pix[i] = grey
		if x, y := i%240, i/240; x < 80 && y >= 160 {
			p.Pix[i] = red
		}
	}
	sc := &scene.Scene{Photos: []scene.Photo{{Name: "marsh"}}, Targets: []scene.Target{{Lab: grey.Lab()}}}
	const want = "No colour stands for about 11 % of the picture, most of it at the lower left."
	if got := uncovered([]*photo.Picture{p}, sc); got != want {
		t.Errorf("%q", got)
	}
	sc.Targets = append(sc.Targets, scene.Target{Lab: red.Lab()})
	if got := uncovered([]*photo.Picture{p}, sc); got != "" {
		t.Errorf("%q", got)
	}
}
