package catalog_test

import (
	"fmt"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

func Example() {
	c, err := catalog.Builtin()
	if err != nil {
		fmt.Println(err)
		return
	}
	tube, err := c.Get("cobalt-blue")
	if err != nil {
		fmt.Println(err)
		return
	}
	s := catalog.NewSwatch(&tube, c.White(), colour.D65(), film.Dry)
	fmt.Println(tube.Name, tube.Pigments, tube.Basis, tube.InClass("toxic"))
	fmt.Println(colour.Name(s.Masstone), "in nine of white:", colour.Name(s.Tint))
	_, err = c.Get("colbalt-blue")
	fmt.Println(err)
	// Output:
	// Cobalt blue [PB28] measured true
	// dark vivid violet-blue in nine of white: very light muted blue
	// there is no tube "colbalt-blue"; did you mean cobalt-blue?
}

func ExampleTube_Doubted() {
	c, err := catalog.Builtin()
	if err != nil {
		fmt.Println(err)
		return
	}
	tube, _ := c.Find("yellow-ochre")
	for _, d := range catalog.Doubts() {
		other := tube.Doubted(d)
		a, b := tube.Paint.Masstone(film.Dry), other.Paint.Masstone(film.Dry)
		fmt.Printf("%s: masstone %.1f away\n", d, colour.DE2000(colour.D65().Lab(&a), colour.D65().Lab(&b)))
	}
	// Output:
	// K/S 20 % higher: masstone 1.9 away
	// K/S 20 % lower: masstone 1.9 away
	// S half higher in the blue and lower in the red: masstone 0.0 away
	// S half higher in the red and lower in the blue: masstone 0.0 away
	// half the strength: masstone 0.0 away
	// twice the strength: masstone 0.0 away
}
