package sample

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/colour"

	"pgregory.net/rapid"
)

// striped is a picture of vertical stripes, each colour so many pixels wide.
func striped(h int, widths []int, colours []colour.Lab) *photo.Picture {
	p := &photo.Picture{H: h, FullH: h}
	for _, w := range widths {
		p.W += w
	}
	p.FullW = p.W
	for range h {
		for i, w := range widths {
			for range w {
				p.Pix = append(p.Pix, colours[i].SRGB().Linear())
			}
		}
	}
	return p
}

func parse(t *testing.T, texts ...string) (out []colour.Lab) {
	t.Helper()
	for _, s := range texts {
		c, err := colour.Parse(s)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, c)
	}
	return out
}

// Flat colours come back as they are, with their areas and their places.
func TestFlatColours(t *testing.T) {
	want := parse(t, "lab(80 -2 -10)", "lab(50 -15 25)", "lab(35 5 12)", "lab(62 12 40)")
	widths := []int{50, 30, 15, 5}
	s, err := Sample(context.Background(), []Source{{Name: "p", File: "p.png", Picture: striped(20, widths, want)}}, Options{Targets: 4})
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Targets) != 4 {
		t.Fatalf("%d targets", len(s.Targets))
	}
	left := 0.0
	for i, target := range s.Targets { // by area, as the stripes are
		if de := colour.DE2000(target.Lab, want[i]); de > 0.1 {
			t.Errorf("%d: %v, want %v", i, target.Lab, want[i])
		}
		if math.Abs(target.Area-float64(widths[i])) > 0.051 {
			t.Errorf("%d: area %v, want %d", i, target.Area, widths[i])
		}
		right := left + float64(widths[i])/100
		if target.At.X < left || target.At.X > right {
			t.Errorf("%d: at %v, not within %v to %v", i, target.At.X, left, right)
		}
		left = right
	}
}

// landscape is 400 by 300 pixels of meadow beside as much of sky, ten shades of
// each.
func landscape() *photo.Picture {
	var widths []int
	var colours []colour.Lab
	for i := range 100 {
		f := float64(i % 10)
		widths = append(widths, 4)
		if i < 50 {
			colours = append(colours, colour.Lab{L: 40 + 2*f, A: -14 - f/2, B: 22 + f})
		} else {
			colours = append(colours, colour.Lab{L: 70 + 2*f, A: -2, B: -12 + f})
		}
	}
	return striped(300, widths, colours)
}

// spot paints a rectangle of a colour.
func spot(p *photo.Picture, x0, y0, w, h int, c colour.Lab) {
	for y := range h {
		for x := range w {
			p.Pix[(y0+y)*p.W+x0+x] = c.SRGB().Linear()
		}
	}
}

// targetOf is the target that is nearly a colour; nil: none is.
func targetOf(s *scene.Scene, c colour.Lab) *scene.Target {
	for i := range s.Targets {
		if colour.DE2000(s.Targets[i].Lab, c) < 2 {
			return &s.Targets[i]
		}
	}
	return nil
}

// A red leaf on three parts in a thousand of a meadow gets a colour of its own,
// though the meadow and the sky would fill all targets with their shades.
func TestAccent(t *testing.T) {
	leaf := colour.Lab{L: 45, A: 40, B: 25}
	p := landscape()
	spot(p, 50, 100, 24, 15, leaf)
	s, err := Sample(context.Background(), []Source{{Name: "p", File: "p.png", Picture: p}}, Options{Targets: 6})
	if err != nil {
		t.Fatal(err)
	}
	target := targetOf(&s, leaf)
	if target == nil {
		t.Fatalf("no red among %+v", s.Targets)
	}
	if target.Area < 0.2 || target.Area > 0.4 || math.Abs(target.At.X-62.0/400) > 0.03 {
		t.Errorf("leaf of %v %% at %v", target.Area, *target.At)
	}
}

// A clean colour is seen for itself at a fifth of the area a greyer one needs.
func TestTells(t *testing.T) {
	for _, c := range []struct {
		lab  colour.Lab
		area float64
		want bool
	}{
		{colour.Lab{L: 45, A: 40, B: 25}, 0.0005, true},
		{colour.Lab{L: 45, A: 40, B: 25}, 0.0003, false},
		{colour.Lab{L: 45, A: 4, B: 12}, 0.0021, true},
		{colour.Lab{L: 45, A: 4, B: 12}, 0.0019, false},
	} {
		points := []point{{at: even(c.lab), area: c.area / 3}, {at: even(c.lab), area: c.area * 2 / 3}}
		if got := tells(points, &group{members: []int{0, 1}, mean: even(c.lab)}); got != c.want {
			t.Errorf("%v on %v of the picture: %v", c.lab, c.area, got)
		}
	}
}

// The darkest and the lightest set the range of values and so get targets of
// their own, nearer to others than an accent may lie.
func TestEndsOfTheRange(t *testing.T) {
	dark, light := colour.Lab{L: 34, A: -14, B: 22}, colour.Lab{L: 94, A: -2, B: -4}
	p := landscape()
	spot(p, 50, 100, 40, 30, dark)
	spot(p, 300, 200, 40, 30, light)
	s, err := Sample(context.Background(), []Source{{Name: "p", File: "p.png", Picture: p}}, Options{Targets: 8})
	if err != nil {
		t.Fatal(err)
	}
	for _, end := range []colour.Lab{dark, light} {
		own := targetOf(&s, end)
		if own == nil {
			t.Errorf("no %v among %+v", end, s.Targets)
			continue
		}
		near := math.Inf(1)
		for i := range s.Targets {
			if other := &s.Targets[i]; other != own {
				near = min(near, math.Sqrt(distance2(even(other.Lab), even(own.Lab))))
			}
		}
		if near >= accentNearest {
			t.Errorf("%v is %.1f from the next: an accent would do", end, near)
		}
	}
}

func TestPlanes(t *testing.T) {
	c := parse(t, "lab(85 0 -5)", "lab(45 -15 25)")
	p := &photo.Picture{W: 40, H: 40, FullW: 40, FullH: 40}
	for i := range 1600 {
		p.Pix = append(p.Pix, c[min(i/800, 1)].SRGB().Linear())
	}
	bands := []scene.PlaneShape{{Plane: "sky", From: 0, To: 0.5}, {Plane: "foreground", From: 0.5, To: 1}}
	s, err := Sample(context.Background(), []Source{{Name: "p", File: "p.png", Picture: p}}, Options{Targets: 1, Planes: bands})
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Targets) != 2 || s.Targets[0].Plane != "sky" || s.Targets[1].Plane != "foreground" || s.Targets[0].At.Y > 0.5 || s.Targets[1].At.Y < 0.5 {
		t.Errorf("%+v", s.Targets)
	}
	if s.Targets[0].Name != "very light greyed blue, sky" {
		t.Errorf("called %q", s.Targets[0].Name)
	}
}

// Each picture is sampled within its own crop and by its own planes, whose corners
// count; areas are of what is left.
func TestCropAndOwnPlanes(t *testing.T) {
	c := parse(t, "lab(85 0 -5)", "lab(45 -15 25)", "lab(50 50 30)")
	p := &photo.Picture{W: 40, H: 40, FullW: 40, FullH: 40}
	for i := range 1600 {
		tone := c[min(i/800, 1)]
		if i%40 >= 30 {
			tone = c[2]
		}
		p.Pix = append(p.Pix, tone.SRGB().Linear())
	}
	left := []values.Point{{X: 0, Y: 0}, {X: 0.75, Y: 0}, {X: 0.75, Y: 0.5}, {X: 0, Y: 0.5}}
	s, err := Sample(context.Background(), []Source{
		{Name: "a", File: "a.png", Picture: p, Crop: []float64{0, 0.25, 0.75, 1}, Planes: []scene.PlaneShape{{Plane: "sky", Corners: left}}},
		{Name: "b", File: "b.png", Picture: p, Crop: []float64{0.75, 0, 1, 1}},
	}, Options{Targets: 3, Planes: []scene.PlaneShape{{Plane: "foreground", From: 0, To: 1}}})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, target := range s.Targets {
		got = append(got, fmt.Sprintf("%s %.1f of %s", target.Plane, target.Area, target.At.Photo))
	}
	if want := []string{"sky 16.7 of a", "foreground 50.0 of b", " 33.3 of a"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if _, err := Sample(context.Background(), []Source{{Name: "a", File: "a.png", Picture: p, Crop: []float64{0.5, 0.5, 0.501, 0.501}}}, Options{Targets: 3}); err == nil {
		t.Error("a crop without a pixel is sampled")
	}
}

func TestFitValues(t *testing.T) {
	c := parse(t, "lab(2 0 0)", "lab(20 3 3)", "lab(50 0 10)", "lab(99 0 0)")
	p := striped(10, []int{25, 25, 25, 25}, c)
	for _, fit := range []bool{true, false} {
		s, err := Sample(context.Background(), []Source{{Name: "p", File: "p.png", Picture: p}}, Options{Targets: 4, FitValues: fit})
		if err != nil {
			t.Fatal(err)
		}
		if (s.Photos[0].Values != nil) != fit {
			t.Errorf("fit %v: curve %v", fit, s.Photos[0].Values)
		}
		low, high := 100.0, 0.0
		for _, target := range s.Targets {
			low, high = min(low, target.Lab.L), max(high, target.Lab.L)
			if fit && target.Lab.B > 8 && math.Abs(target.Lab.L-50) > 0.1 {
				t.Errorf("the middle moved to %v", target.Lab.L)
			}
		}
		if inside := low >= 23 && high <= 97; inside != fit {
			t.Errorf("fit %v: values %v to %v", fit, low, high)
		}
	}
}

// Whatever the picture: a valid scene, areas that sum to the whole, names and
// colours repeatable to the byte.
func TestAnyPicture(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "colours")
		var colours []colour.Lab
		var widths []int
		for range n {
			c := colour.SRGB{R: rapid.Float64Range(0, 1).Draw(t, "r"), G: rapid.Float64Range(0, 1).Draw(t, "g"), B: rapid.Float64Range(0, 1).Draw(t, "b")}
			colours = append(colours, c.Lab())
			widths = append(widths, rapid.IntRange(1, 12).Draw(t, "width"))
		}
		p := striped(rapid.IntRange(1, 12).Draw(t, "height"), widths, colours)
		o := Options{Targets: rapid.IntRange(1, 12).Draw(t, "targets"), FitValues: rapid.Bool().Draw(t, "fit")}
		s, err := Sample(context.Background(), []Source{{Name: "p", File: "p.png", Picture: p}}, o)
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Targets) > o.Targets {
			t.Fatalf("%d targets for %d", len(s.Targets), o.Targets)
		}
		var sum float64
		for _, target := range s.Targets {
			sum += target.Area
		}
		if math.Abs(sum-100) > 0.051*float64(len(s.Targets)) {
			t.Fatalf("areas sum to %v", sum)
		}
		again, err := Sample(context.Background(), []Source{{Name: "p", File: "p.png", Picture: p}}, o)
		if err != nil || !bytes.Equal(scene.Format(s), scene.Format(again)) {
			t.Fatalf("not repeatable: %v", err)
		}
	})
}

// Two colours of one name are told apart by what they differ in most.
func TestAlikeNamesAreToldApart(t *testing.T) {
	mud := colour.LCh{L: 50, C: 20, H: 150}
	for want, other := range map[string]colour.LCh{
		"darker lighter":  {L: 58, C: 23, H: 155},
		"duller stronger": {L: 52, C: 27, H: 155},
		"cooler warmer":   {L: 52, C: 22, H: 131},
	} {
		a, b := apart(mud.Lab(), other.Lab())
		if got := a + " " + b; got != want {
			t.Errorf("%v and %v: %s, want %s", mud, other, got, want)
		}
		if c, d := apart(other.Lab(), mud.Lab()); c != b || d != a {
			t.Errorf("%v and %v: %s %s the other way round", other, mud, c, d)
		}
	}
}

func ExampleSample() {
	sky, _ := colour.Parse("#c8d8e4")
	mud, _ := colour.Parse("#6e6358")
	picture := striped(10, []int{30, 10}, []colour.Lab{sky, mud})
	s, err := Sample(context.Background(), []Source{{Name: "shore", File: "shore.jpg", Picture: picture}}, Options{Targets: 2, FitValues: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, t := range s.Targets {
		fmt.Printf("%s: %s, %.0f %%\n", t.Name, t.Colour, t.Area)
	}
	// Output:
	// very light greyed blue: lab(85.5 -3.0 -7.7), 75 %
	// dark greyed brown: lab(42.7 2.4 7.8), 25 %
}
