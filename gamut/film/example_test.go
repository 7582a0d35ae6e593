package film_test

import (
	"fmt"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// flat is a paint alike in every band.
func flat(k, s float64) (p film.Paint) {
	for b := range p.K {
		p.K[b], p.S[b] = k, s
	}
	return p
}

// A little black in white, one part in ten by volume, and the black alone: as it
// dries, and varnished.
func ExampleMix() {
	white, black := flat(0.005, 1), flat(4, 0.1)
	var grey film.Paint
	film.Mix(&grey, []film.Paint{white, black}, []float64{9, 1})
	for _, view := range []film.View{film.AsDried, film.NoGlare} {
		surface := film.Dry.Viewed(view)
		mixed, alone := grey.Masstone(surface), black.Masstone(surface)
		fmt.Printf("%s: grey L* %.0f, black L* %.0f\n", view, colour.D65().Lab(&mixed).L, colour.D65().Lab(&alone).L)
	}
	// Output:
	// dry: grey L* 53, black L* 22
	// no-glare: grey L* 51, black L* 4
}
