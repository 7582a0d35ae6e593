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

// A box of two tubes as two other makers may fill them.
func ExampleBoxes() {
	c, err := catalog.Builtin()
	if err != nil {
		fmt.Println(err)
		return
	}
	white, _ := c.Find("titanium-white")
	ochre, _ := c.Find("yellow-ochre")
	boxes, paints := catalog.NewBoxes([]catalog.Tube{white, ochre}), make([]film.Paint, 2)
	for n := range 3 {
		boxes.Draw(n, paints)
		seen := paints[1].Masstone(c.Scale().Surface)
		lab := colour.D65().Lab(&seen)
		fmt.Printf("box %d: ochre of value %.1f, chroma %.0f\n", n, lab.L/10, lab.LCh().C)
	}
	// Output:
	// box 0: ochre of value 5.8, chroma 46
	// box 1: ochre of value 5.9, chroma 43
	// box 2: ochre of value 6.4, chroma 48
}
