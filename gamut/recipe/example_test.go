package recipe_test

import (
	"context"
	"fmt"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/recipe"
)

// threePaints are invented for the example: flat K and S with a broad absorption
// band.
func threePaints() []film.Paint {
	var white, earth, blue film.Paint
	for b := range white.K {
		nm := float64(colour.StartNM + b*colour.StepNM)
		white.K[b], white.S[b] = 0.002, 1
		earth.K[b], earth.S[b] = 0.02, 0.3
		if nm < 550 {
			earth.K[b] = 0.5
		}
		blue.K[b], blue.S[b] = 1.5, 0.1
		if nm < 500 {
			blue.K[b] = 0.02
		}
	}
	return []film.Paint{white, earth, blue}
}

func ExampleKitchen_Plan() {
	names := []string{"white", "earth", "blue"}
	k, err := recipe.NewKitchen(threePaints(), gamut.Options{Surface: film.Dry}, recipe.Limits{Prepared: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	var targets []recipe.Target
	for _, c := range []colour.LCh{
		{L: 70, C: 29, H: 61}, // dry sand
		{L: 60, C: 15, H: 50}, // wet sand
		{L: 88, C: 8, H: 291}, // haze
		{L: 81, C: 6, H: 0},   // cloud
	} {
		targets = append(targets, recipe.Target{Lab: c.Lab(), Tolerance: 3})
	}
	plan, err := k.Plan(context.Background(), targets)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range plan.Prepared {
		fmt.Printf("prepare 1 %s in %d %s for %d mixes\n", names[p.Paint], p.Ratio, names[p.Into], p.Uses)
	}
	for _, r := range plan.Recipes {
		for _, p := range r.Parts {
			if p.Touch() {
				fmt.Printf("a touch of %s", names[p.Paint])
			} else {
				fmt.Printf("%g %s", p.Volume(), names[p.Paint])
			}
			if p.LetDown() {
				fmt.Printf(" (1:%d)", p.Ratio)
			}
			fmt.Print(", ")
		}
		fmt.Printf("%.1f off\n", r.DE)
	}
	// Output:
	// prepare 1 blue in 10 white for 4 mixes
	// 4 earth, 3 white, 1 blue (1:10), 0.4 off
	// 1 earth, 1 blue (1:10), 1.9 off
	// 6 white, a touch of blue (1:10), 0.7 off
	// 4 earth (1:10), 2 white, 1 blue (1:10), 0.7 off
}

func ExampleKitchen_Ways() {
	k, err := recipe.NewKitchen(threePaints(), gamut.Options{Surface: film.Dry}, recipe.Limits{})
	if err != nil {
		fmt.Println(err)
		return
	}
	sand := colour.LCh{L: 70, C: 29, H: 61}.Lab()
	ways, err := k.Ways(context.Background(), recipe.Target{Lab: sand, Tolerance: 3}, 5)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range ways {
		fmt.Printf("%d paints in %g parts, %.1f off, %v\n", r.Paints, r.Total(), r.DE, colour.Direction(r.Lab, sand))
	}
	// Output:
	// 3 paints in 6 parts, 0.2 off, about right
	// 2 paints in 12 parts, 5.0 off, too much chroma by 4.2, too light by 2.3, too yellow by 1.5
}
