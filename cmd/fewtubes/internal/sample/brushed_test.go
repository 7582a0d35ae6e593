package sample

import (
	"math"
	"slices"
	"testing"

	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/colour"
)

// Stripes broader than the brush keep their colours, areas and places.
func TestBrushedStripes(t *testing.T) {
	want := parse(t, "lab(80 -2 -10)", "lab(50 -15 25)", "lab(35 5 12)", "lab(62 12 40)")
	widths := []int{250, 150, 75, 25}
	source := Source{Name: "p", File: "p.png", Picture: striped(100, widths, want)}
	b, err := Brush(t.Context(), []Source{source}, []*values.Curve{nil}, UsualBrush)
	if err != nil {
		t.Fatal(err)
	}
	colours, areas := b.Colours(), b.Areas()
	if len(colours) != len(want) {
		t.Fatalf("%d cells", len(colours))
	}
	beyond := make([]float64, len(want))
	for i, c := range want {
		k := slices.IndexFunc(colours, func(got colour.Lab) bool { return colour.DE2000(got, c) < 0.05 })
		if k < 0 || math.Abs(areas[k]-float64(widths[i])/500) > 1e-9 {
			t.Fatalf("%v: cell %d of %v, %v", c, k, colours, areas)
		}
		in := make([]bool, len(want))
		in[k] = true
		if part := b.Parts(in)[0]; math.Abs(part-float64(widths[i])/500) > 1e-9 {
			t.Errorf("%v: part %v", c, part)
		}
		if i > 0 {
			beyond[k] = 1
		}
	}
	left := b.Leaves(beyond, 2)
	if len(left) != 2 || colour.DE2000(left[0].Lab, want[1]) > 0.1 || colour.DE2000(left[1].Lab, want[2]) > 0.1 {
		t.Errorf("left: %v", left)
	}
	if x := left[0].At.X; x < 0.5 || x > 0.8 {
		t.Errorf("the second stripe is said to lie at %v", x)
	}
}

// Of like colours the one farthest out brings the others along, but for a speck.
func TestLeavesBringAlong(t *testing.T) {
	colours := parse(t, "lab(50 0 20)", "lab(50 0 23)", "lab(50 0 26)", "lab(50 0 29)", "lab(90 0 0)")
	source := Source{Name: "p", Picture: striped(10, []int{200, 150, 140, 5, 505}, colours)}
	b, err := Brush(t.Context(), []Source{source}, []*values.Curve{nil}, UsualBrush)
	if err != nil {
		t.Fatal(err)
	}
	beyond := make([]float64, len(b.points))
	for i, c := range b.Colours() {
		if c.L < 60 {
			beyond[i] = c.B - 18
		}
	}
	left := b.Leaves(beyond, 3)
	if len(left) == 0 || colour.DE2000(left[0].Lab, colours[2]) > 0.1 {
		t.Errorf("%v, not %v, stands for what is left", left, colours[2])
	}
}

// A crop that is finer than the brush still counts.
func TestBrushFinerThanTheBrush(t *testing.T) {
	colours := parse(t, "lab(80 -2 -10)", "lab(35 5 12)")
	source := Source{Name: "p", Picture: striped(300, []int{600, 2}, colours), Crop: []float64{0.997, 0, 1, 1}}
	if err := source.Check(); err != nil {
		t.Fatal(err)
	}
	b, err := Brush(t.Context(), []Source{source}, []*values.Curve{nil}, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	if got := b.Colours(); len(got) != 1 || colour.DE2000(got[0], colours[1]) > 0.1 {
		t.Errorf("%v", got)
	}
}
