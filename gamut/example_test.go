package gamut_test

import (
	"fmt"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
)

// white, earth and blue are invented for the example: flat K and S with a broad
// absorption band.
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

func ExampleMixer_Closest() {
	names := []string{"white", "earth", "blue"}
	m, err := gamut.NewMixer(threePaints(), gamut.Options{Surface: film.Dry})
	if err != nil {
		fmt.Println(err)
		return
	}
	target := colour.LCh{L: 60, C: 15, H: 50}.Lab() // wet sand
	mix := m.Closest(target, set.Full(m.Len()), gamut.Search)
	for i, p := range mix.Paints {
		fmt.Printf("%.3f %s\n", mix.Shares[i], names[p])
	}
	fmt.Printf("%.2f off\n", mix.DE)
	r := m.Recipe(target, mix, 20)
	for i, p := range r.Paints {
		fmt.Printf("%d parts %s\n", r.Parts[i], names[p])
	}
	fmt.Printf("%.1f off\n", r.DE)
	// Output:
	// 0.425 white
	// 0.520 earth
	// 0.054 blue
	// 0.51 off
	// 8 parts white
	// 10 parts earth
	// 1 parts blue
	// 0.6 off
}

func ExampleMixer_Within() {
	m, err := gamut.NewMixer(threePaints(), gamut.Options{Surface: film.Dry})
	if err != nil {
		fmt.Println(err)
		return
	}
	red := colour.LCh{L: 45, C: 60, H: 35}.Lab()
	mix, ok := m.Within(red, set.Full(m.Len()), 2, gamut.Search)
	fmt.Printf("%v: the nearest is %.1f off, %v\n", ok, mix.DE, colour.Direction(mix.Lab, red))
	// Output:
	// false: the nearest is 17.6 off, not enough chroma by 15.0, too yellow by 8.8
}

func ExampleMixer_Recipes() {
	names := []string{"white", "earth", "blue"}
	m, err := gamut.NewMixer(threePaints(), gamut.Options{Surface: film.Dry})
	if err != nil {
		fmt.Println(err)
		return
	}
	sand := colour.LCh{L: 60, C: 15, H: 50}.Lab()
	for _, r := range m.Recipes(sand, set.Full(m.Len()), 20, 5) {
		for _, s := range m.MixingOrder(r.Paints, amounts(r.Parts)) {
			fmt.Printf("%.0f %s, ", s.Amount, names[s.Paint])
		}
		fmt.Printf("%.1f off, %v\n", r.DE, colour.Direction(r.Lab, sand))
	}
	// Output:
	// 10 earth, 8 white, 1 blue, 0.6 off, too much chroma by 0.6
}

func amounts(parts []int) []float64 {
	out := make([]float64, len(parts))
	for i, n := range parts {
		out[i] = float64(n)
	}
	return out
}

func ExampleMixer_Correct() {
	names := []string{"white", "earth", "blue"}
	m, err := gamut.NewMixer(threePaints(), gamut.Options{Surface: film.Dry})
	if err != nil {
		fmt.Println(err)
		return
	}
	pile := gamut.Pile{Paints: []int{0, 1}, Amounts: []float64{8, 10}}
	sand := colour.LCh{L: 60, C: 15, H: 50}.Lab()
	c, err := m.Correct(pile, sand, set.Full(m.Len()), 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, p := range c.Paints {
		fmt.Printf("add %.2f %s\n", c.Amounts[i], names[p])
	}
	fmt.Printf("%.1f off; afresh wastes less: %v\n", c.DE, c.AfreshLess)
	// Output:
	// add 0.95 blue
	// 1.0 off; afresh wastes less: false
}
