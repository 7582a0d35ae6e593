package film_test

import (
	"context"
	"fmt"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// Two grey paints, invented, read alone and as one part in four of the white. By hand
// (Duncan 1940): K/S inside is 0.0008, 5.02 and 0.216, so S is 4 (0.216 - 0.0008) / (5.02 - 0.216) = 0.18.
func ExampleFit() {
	var all [colour.Bands]bool
	for b := range all {
		all[b] = true
	}
	readings := []film.Reading{
		{Name: "white", Amounts: []float64{1, 0}, Seen: colour.Flat(0.90), Have: all},
		{Name: "dark", Amounts: []float64{0, 1}, Seen: colour.Flat(0.06), Have: all},
		{Name: "tint", Amounts: []float64{4, 1}, Seen: colour.Flat(0.30), Have: all},
	}
	opt := film.DefaultFit()
	opt.Anchor = 0
	fit, err := film.Fit(context.Background(), readings, 2, opt)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range fit.Paints {
		p := &fit.Paints[i]
		seen := p.Masstone(fit.Surface)
		fmt.Printf("L* %.0f, S %.2f, next sample: %v\n", colour.D65().Lab(&seen).L, p.S[18], p.NextSample)
	}
	// Output:
	// L* 96, S 1.00, next sample: none
	// L* 29, S 0.18, next sample: none
}
