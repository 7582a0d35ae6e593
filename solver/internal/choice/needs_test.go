package choice

import (
	"context"
	"testing"

	"fewtubes/gamut"
)

// A minimum rests on nothing that a harder search takes back: each of these scenes
// takes one tube, and a quicker search overlooks that the tube reaches the last
// target. The cuts it then finds ask for two tubes, in the first scene by two
// that share none, in the second by three of which any two share one.
func TestNeedsAreSearchedHarderBeforeTheyCount(t *testing.T) {
	for what, c := range map[string]struct {
		tubes   int
		answers [][]int // per target: the tubes that reach it by themselves
		sole    int     // which reaches the last target too, though that is overlooked
	}{
		"two needs apart":        {2, [][]int{{0}, {1}}, 0},
		"three that are tangled": {3, [][]int{{0, 1}, {1, 2}, {0, 2}}, 1},
	} {
		o := &families{n: c.tubes, blind: true}
		var tolerance, area []float64
		for target, by := range c.answers {
			mixes := make([]gamut.Mix, 3) // the third is overlooked
			for i := range mixes {
				mixes[i] = gamut.Mix{Paints: []int{by[i%len(by)]}, DE: 0.5}
			}
			if target == len(c.answers)-1 {
				mixes[2].Paints = []int{c.sole}
			}
			o.supports = append(o.supports, mixes)
			tolerance, area = append(tolerance, 1), append(area, 1)
		}
		none := make([]int, c.tubes)
		stakes := &Stakes{Oracle: o, Tubes: c.tubes, Tolerance: tolerance, Area: area, Prices: none, Flaws: none}
		d, err := stakes.Blank().decide(context.Background(), &Wish{Prices: none, Most: 1})
		if err != nil {
			t.Fatal(err)
		}
		if d.Size != 1 || !d.Palettes[0].Has(c.sole) {
			t.Errorf("%s: %d tubes are said to be the fewest, and tube %d alone will do", what, d.Size, c.sole)
		}
	}
}
