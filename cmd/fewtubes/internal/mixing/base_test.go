package mixing

import (
	"math"
	"testing"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// Recipes from bases come first, are what they say, and no nearer than the mix measured
// freely, those of more paints than a mix may hold included.
func TestByHandFromBases(t *testing.T) {
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	var tubes []catalog.Tube
	for _, id := range []string{"titanium-white", "yellow-ochre", "burnt-sienna", "ultramarine-blue", "hansa-yellow-medium", "quinacridone-magenta"} {
		tube, _ := all.Find(id)
		tubes = append(tubes, tube)
	}
	table, err := NewTable(tubes, gamut.Options{Surface: film.Dry, Light: colour.D65(), PaintsPerMix: 4})
	if err != nil {
		t.Fatal(err)
	}
	m := hand.Usual()
	m.Bases = []hand.BaseOf{{{Tube: "yellow-ochre", Parts: 3}, {Tube: "ultramarine-blue", Parts: 1}, {Tube: "titanium-white", Parts: 2}}}
	most := 0
	for _, amounts := range [][]Amount{
		{{"yellow-ochre", 4}, {"ultramarine-blue", 1}, {"titanium-white", 2}},
		{{"yellow-ochre", 3}, {"ultramarine-blue", 1}, {"titanium-white", 2}, {"hansa-yellow-medium", 3}, {"quinacridone-magenta", 2}},
		{{"yellow-ochre", 6}, {"ultramarine-blue", 2}, {"titanium-white", 4}, {"burnt-sienna", 4}, {"quinacridone-magenta", 3}},
	} {
		target := table.Colour(amounts)
		found, err := table.ByHand(t.Context(), target, 3, m)
		if err != nil {
			t.Fatal(err)
		}
		first := &found.List[0]
		if first.Hand.FromBase() == nil || found.NoBase {
			t.Fatalf("%v: no base serves", amounts)
		}
		var made []Amount
		for _, s := range first.Hand.Shares() {
			made = append(made, Amount{s.ID, s.Fraction})
		}
		most = max(most, len(made))
		if de := colour.DE2000(table.Colour(made), target); math.Abs(de-first.DE) > 1e-6 || de > 3 {
			t.Errorf("%v off, said %v", de, first.DE)
		}
		if first.Free.DE > first.DE+1e-9 || found.Nearest.DE > first.Free.DE {
			t.Errorf("free %v, nearest %v, parts %v", first.Free.DE, found.Nearest.DE, first.DE)
		}
	}
	if most < 5 {
		t.Errorf("at most %d paints: the colours do not try it", most)
	}
}
