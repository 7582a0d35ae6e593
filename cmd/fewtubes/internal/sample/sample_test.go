package sample

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"testing"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/scene"
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
	s, err := Sample(context.Background(), []Source{{"p", "p.png", striped(20, widths, want)}}, Options{Targets: 4})
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

// A red leaf on three parts in a thousand of a meadow gets a colour of its own,
// though the meadow and the sky would fill all targets with their shades.
func TestAccent(t *testing.T) {
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
	leaf := colour.Lab{L: 45, A: 40, B: 25}
	p := striped(300, widths, colours)
	for y := range 15 {
		for x := range 24 {
			p.Pix[(100+y)*p.W+50+x] = leaf.SRGB().Linear()
		}
	}
	s, err := Sample(context.Background(), []Source{{"p", "p.png", p}}, Options{Targets: 6})
	if err != nil {
		t.Fatal(err)
	}
	for _, target := range s.Targets {
		if colour.DE2000(target.Lab, leaf) < 1 {
			if target.Area < 0.2 || target.Area > 0.4 || math.Abs(target.At.X-62.0/400) > 0.03 {
				t.Errorf("leaf of %v %% at %v", target.Area, *target.At)
			}
			return
		}
	}
	t.Errorf("no red among %+v", s.Targets)
}

func TestPlanes(t *testing.T) {
	c := parse(t, "lab(85 0 -5)", "lab(45 -15 25)")
	p := &photo.Picture{W: 40, H: 40, FullW: 40, FullH: 40}
	for i := range 1600 {
		p.Pix = append(p.Pix, c[min(i/800, 1)].SRGB().Linear())
	}
	bands := []scene.PlaneBand{{Plane: "sky", From: 0, To: 0.5}, {Plane: "foreground", From: 0.5, To: 1}}
	s, err := Sample(context.Background(), []Source{{"p", "p.png", p}}, Options{Targets: 1, Planes: bands})
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

func TestFitValues(t *testing.T) {
	c := parse(t, "lab(2 0 0)", "lab(20 3 3)", "lab(50 0 10)", "lab(99 0 0)")
	p := striped(10, []int{25, 25, 25, 25}, c)
	for _, fit := range []bool{true, false} {
		s, err := Sample(context.Background(), []Source{{"p", "p.png", p}}, Options{Targets: 4, FitValues: fit})
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
		s, err := Sample(context.Background(), []Source{{"p", "p.png", p}}, o)
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
		again, err := Sample(context.Background(), []Source{{"p", "p.png", p}}, o)
		if err != nil || !bytes.Equal(scene.Format(s), scene.Format(again)) {
			t.Fatalf("not repeatable: %v", err)
		}
	})
}

func ExampleSample() {
	sky, _ := colour.Parse("#c8d8e4")
	mud, _ := colour.Parse("#6e6358")
	picture := striped(10, []int{30, 10}, []colour.Lab{sky, mud})
	s, err := Sample(context.Background(), []Source{{"shore", "shore.jpg", picture}}, Options{Targets: 2, FitValues: true})
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
