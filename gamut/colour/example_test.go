package colour_test

import (
	"fmt"

	"fewtubes/gamut/colour"
)

func ExampleParse() {
	for _, s := range []string{"#7a8c5a", "lch(50 30 120deg)", "lab(50 10)"} {
		c, err := colour.Parse(s)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Printf("L %.1f, a %.1f, b %.1f: %v\n", c.L, c.A, c.B, colour.Name(c))
	}
	// Output:
	// L 55.7, a -15.5, b 24.6: mid clear yellow-green
	// L 50.0, a -15.0, b 26.0: mid clear yellow-green
	// colour "lab(50 10)": three numbers are wanted, 2 found; part them with blanks, as in lab(52 -8 20)
}

func ExampleLight_Lab() {
	card := colour.Flat(0.18)
	for _, l := range []*colour.Light{colour.D65(), colour.A()} {
		fmt.Printf("%s: L %.2f\n", l.Name, l.Lab(&card).L)
	}
	// Output:
	// D65: L 49.50
	// A: L 49.50
}

func ExampleDE2000() {
	// Pair 1 of the table of Sharma, Wu, Dalal 2005.
	fmt.Printf("%.4f\n", colour.DE2000(colour.Lab{L: 50, A: 2.6772, B: -79.7751}, colour.Lab{L: 50, A: 0, B: -82.7485}))
	// Output: 2.0425
}

func ExampleDirection() {
	target := colour.LCh{L: 50, C: 30, H: 130}.Lab()
	mix := colour.LCh{L: 44, C: 24, H: 118}.Lab()
	miss := colour.Direction(mix, target)
	fmt.Printf("%.1f off: %v\n", miss.DE, miss)
	// Output: 7.7 off: too dark by 5.9, too warm by 4.0, not enough chroma by 3.0
}

func ExampleMunsell_Lab() {
	m, err := colour.ParseMunsell("5GY 5/6")
	if err != nil {
		fmt.Println(err)
		return
	}
	c, inside := m.Lab()
	fmt.Printf("%v is L %.1f a %.1f b %.1f under D65, inside the data: %v\n", m, c.L, c.A, c.B, inside)
	back, _ := c.Munsell()
	fmt.Println("and back:", back)
	// Output:
	// 5.0GY 5.00/6.0 is L 51.1 a -19.5 b 36.8 under D65, inside the data: true
	// and back: 5.0GY 5.00/6.0
}
