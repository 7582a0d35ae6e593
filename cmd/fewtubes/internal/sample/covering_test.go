package sample

import (
	"math"
	"testing"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
	"fewtubes/solver"
)

// The palette chosen for the colours of one of the demo's pictures covers it, which that
// for as many clusters does less: counted by a search for each stroke.
func TestColoursCoverThePicture(t *testing.T) {
	stock, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	p, err := photo.Open("../../../../testdata/salt-marsh/close.jpg", WorkingSize)
	if err != nil {
		t.Fatal(err)
	}
	source := Source{Name: "close", File: "close.jpg", Picture: p}
	b, err := Brush(t.Context(), []Source{source}, []*values.Curve{nil}, UsualBrush)
	if err != nil {
		t.Fatal(err)
	}
	var parts []float64
	for _, o := range []Options{{Targets: 8}, {Targets: 8, Stock: stock}} {
		s, err := Sample(t.Context(), []Source{source}, o)
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Targets) != o.Targets {
			t.Errorf("%d colours, not %d", len(s.Targets), o.Targets)
		}
		area := 0.0
		for _, target := range s.Targets {
			area += target.Area
		}
		if math.Abs(area-100) > 0.5 {
			t.Errorf("areas come to %v", area)
		}
		problem := s.Problem(stock)
		answer, err := solver.Choose(t.Context(), problem, nil)
		if err != nil {
			t.Fatal(err)
		}
		tubes, err := stock.GetEach(answer.Palettes[0].Tubes)
		if err != nil {
			t.Fatal(err)
		}
		var paints []film.Paint
		for _, tube := range tubes {
			paints = append(paints, tube.Paint)
		}
		m, err := gamut.NewMixer(paints, gamut.Options{Surface: problem.Surface})
		if err != nil {
			t.Fatal(err)
		}
		in := make([]bool, len(b.points))
		for i, c := range b.Colours() {
			in[i] = m.Closest(c, set.Full(m.Len()), gamut.Search).DE <= s.Tolerance
		}
		parts = append(parts, b.Parts(in)[0])
	}
	t.Logf("clusters alone %.3f, with what they miss %.3f", parts[0], parts[1])
	if parts[1] < covered || parts[0] >= covered {
		t.Errorf("clusters alone reach %.3f, with what they miss %.3f", parts[0], parts[1])
	}
}
