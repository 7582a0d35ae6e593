package hand

import (
	"math"
	"slices"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/recipe"
	"fewtubes/solver"
)

func problem(t testing.TB) (*solver.Problem, []string) {
	t.Helper()
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	p := &solver.Problem{Tubes: all.Tubes(), Surface: film.Dry, Light: colour.D65(), PaintsPerMix: 4}
	for _, lab := range []colour.Lab{
		{L: 73, A: -4, B: -17}, {L: 88.5, A: 3, B: 16}, {L: 95, A: 0, B: 4}, {L: 62, A: 0.5, B: -9}, {L: 40, A: -10, B: 20},
		{L: 45, A: 3, B: 12}, {L: 84, A: 0, B: 1}, {L: 55, A: -20, B: 45}, {L: 20, A: 10, B: 5},
	} {
		p.Targets = append(p.Targets, solver.Target{Name: "a colour", Lab: lab, Tolerance: 3, Area: lab.L})
	}
	return p, []string{"titanium-white", "hansa-yellow-medium", "quinacridone-magenta", "prussian-blue", "transparent-yellow-oxide"}
}

// What is told is what is mixed: the shares of every recipe make the colour that is
// told for it, straight from the tubes of the catalogue.
func TestSharesMakeTheColour(t *testing.T) {
	p, palette := problem(t)
	plan, err := New(t.Context(), p, palette, Usual())
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[bool]int{}
	for i, r := range plan.Recipes {
		var paints []film.Paint
		var amounts []float64
		for _, s := range r.Shares() {
			at := slices.IndexFunc(p.Tubes, func(tube catalog.Tube) bool { return tube.ID == s.ID })
			paints, amounts = append(paints, p.Tubes[at].Paint), append(amounts, s.Fraction)
		}
		var sum film.Paint
		film.Mix(&sum, paints, amounts)
		seen := sum.Masstone(p.Surface)
		lab := p.Light.Lab(&seen)
		if d := colour.DE2000(lab, r.Lab); d > 1e-9 {
			t.Errorf("%s: the shares are %g from what is told", r.Words(func(id string) string { return id }), d)
		}
		if d := math.Abs(colour.DE2000(lab, p.Targets[i].Lab) - r.DE); d > 1e-9 {
			t.Errorf("%s: off by %g more than is told", r.Words(func(id string) string { return id }), d)
		}
		kinds[r.LetsDown()]++
	}
	if kinds[true] == 0 || kinds[false] == 0 || len(plan.Prepared) == 0 {
		t.Errorf("%v and %d prepared: the colours do not try it", kinds, len(plan.Prepared))
	}
}

// The paint of a prepared pile is what the recipes take of it, by area.
func TestFractionOfPiles(t *testing.T) {
	p := &Plan{Prepared: make([]Pile, 1)}
	pile := &p.Prepared[0]
	p.Recipes = []Recipe{
		{Parts: []Part{{Tube: "white", Quarters: 12}, {Tube: "blue", In: "white", Ratio: 10, Pile: pile, Quarters: 4}}},
		{Parts: []Part{{Tube: "white", Quarters: 4}}},
	}
	p.share([]solver.Target{{Area: 3}, {Area: 1}})
	if want := 0.75 * 0.25; math.Abs(pile.Fraction-want) > 1e-12 {
		t.Errorf("%v of the paint, want %v", pile.Fraction, want)
	}
}

func TestWords(t *testing.T) {
	piles := []Pile{{Strong: "blue", Into: "white", Ratio: 10}, {Strong: "blue", Into: "ochre", Ratio: 10}, {Strong: "blue", Into: "ochre", Ratio: 5}, {Strong: "red", Into: "white", Ratio: 5}}
	tellApart(piles)
	var parts []Part
	for i := range piles {
		parts = append(parts, Part{Tube: piles[i].Strong, In: piles[i].Into, Ratio: piles[i].Ratio, Pile: &piles[i], Quarters: 8})
	}
	parts = append(parts, Part{Tube: "umber", In: "white", Ratio: 30, Quarters: 4}, Part{Tube: "green", Quarters: 1, TooMuch: "too cool"})
	r := Recipe{Parts: parts}
	got := r.Words(func(id string) string { return id })
	want := "2 prepared blue (in white) + 2 prepared blue (1:10 in ochre) + 2 prepared blue (1:5 in ochre) + 2 prepared red" +
		" + 1 umber (1:30 in white) + a touch of green (too much: too cool)"
	if got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
	if got := piles[2].Words(func(id string) string { return id }); got != "1 blue in 5 ochre" {
		t.Error(got)
	}
}

// Nothing to mix from and nothing to mix are no trouble.
func TestNothing(t *testing.T) {
	p, palette := problem(t)
	if plan, err := New(t.Context(), p, nil, Usual()); err != nil || len(plan.Recipes) > 0 {
		t.Error(plan, err)
	}
	p.Targets = nil
	if plan, err := New(t.Context(), p, palette, Usual()); err != nil || len(plan.Recipes) > 0 {
		t.Error(plan, err)
	}
	one := p.Tubes[:1]
	ways, err := Ways(t.Context(), one, gamut.Options{Surface: film.Dry}, Usual(), recipe.Target{Lab: colour.Lab{L: 50}, Tolerance: 3})
	if err != nil || len(ways) != 1 || ways[0].Within {
		t.Error(ways, err)
	}
}

// The nearest parts stand in the order of mixing, and may be let down twice.
func TestWordsOfTheNearestParts(t *testing.T) {
	r := Recipe{Parts: []Part{
		{Tube: "blue", In: "white", Ratio: 10, Times: 1, Quarters: 8},
		{Tube: "white", Quarters: 48},
		{Tube: "red", In: "white", Ratio: 5, Times: 2, Quarters: 4},
	}}
	got := r.Words(func(id string) string { return id })
	if got != "12 white + 2 blue (1:10 in white) + 1 red (twice 1:5 in white)" {
		t.Error(got)
	}
}

// A part let down twice one in ten is one volume in 121.
func TestPartLetDownTwice(t *testing.T) {
	p, _ := problem(t)
	tubes := p.Tubes
	find := func(id string) *catalog.Tube {
		return &tubes[slices.IndexFunc(tubes, func(t catalog.Tube) bool { return t.ID == id })]
	}
	got := Part{Tube: "ultramarine-blue", In: "titanium-white", Times: 2, Ratio: 10}.Paint(find)
	var want film.Paint
	film.Mix(&want, []film.Paint{find("ultramarine-blue").Paint, find("titanium-white").Paint}, []float64{1.0 / 121, 120.0 / 121})
	for b := range want.K {
		if math.Abs(got.K[b]-want.K[b]) > 1e-12 || math.Abs(got.S[b]-want.S[b]) > 1e-12 {
			t.Fatalf("band %d: K %g S %g, want %g and %g", b, got.K[b], got.S[b], want.K[b], want.S[b])
		}
	}
}

// A part by itself: how much, of what, let down how.
func TestPartsAreNamed(t *testing.T) {
	same := func(id string) string { return id }
	for _, c := range []struct {
		part               Part
		count, paint, note string
	}{
		{Part{Tube: "white", Quarters: 24}, "6", "white", ""},
		{Part{Tube: "blue", Quarters: 1}, "a touch", "blue", ""},
		{Part{Tube: "blue", In: "white", Ratio: 10, Times: 1, Quarters: 3}, "3 touches", "blue", "1 in 10 white"},
		{Part{Tube: "blue", In: "white", Ratio: 30, Times: 2, Quarters: 4}, "1", "blue", "twice 1 in 30 white"},
		{Part{Tube: "blue", In: "ochre", Ratio: 5, Times: 1, Pile: &Pile{Strong: "blue", Into: "ochre", Ratio: 5}, Quarters: 8}, "2", "blue", "prepared, 1 in 5 ochre"},
		{Part{Base: &Base{ID: "base-1", Of: BaseOf{{"ochre", 3}, {"blue", 1}}}, Quarters: 12}, "3", "base 1", "3 ochre + 1 blue"},
	} {
		paint, note := c.part.Named(same)
		if got := c.part.Count(); got != c.count || paint != c.paint || note != c.note {
			t.Errorf("%q %q %q, want %q %q %q", got, paint, note, c.count, c.paint, c.note)
		}
	}
}
