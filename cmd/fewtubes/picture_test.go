package main

import (
	"encoding/json"
	"image"
	_ "image/jpeg"
	"math"
	"os"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
)

// The share said to be reached, counted again: the picture averaged over squares of ten
// pixels, a hundredth of its width, in linear light by the formula of IEC 61966-2-1, and a
// search for each square, by nothing that the choice is made with.
func TestPictureIsCountedAgain(t *testing.T) {
	const path, side = "../../testdata/salt-marsh/close.jpg", 10
	var doc struct {
		Within, Ceiling float64
		Minimum         struct{ Tubes int }
		Tubes           []struct{ ID string }
		Photographs     []struct{ Within float64 }
	}
	if err := json.Unmarshal([]byte(said(t, "choose", "--picture", "97", path, "--json")), &doc); err != nil {
		t.Fatal(err)
	}
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	img, _, err := image.Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	linear := func(v uint32) float64 {
		c := float64(v>>8) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	var paints []film.Paint
	for _, tube := range doc.Tubes {
		known, err := all.Get(tube.ID)
		if err != nil {
			t.Fatal(err)
		}
		paints = append(paints, known.Paint)
	}
	m, err := gamut.NewMixer(paints, gamut.Options{Surface: all.Surface(film.AsDried)})
	if err != nil {
		t.Fatal(err)
	}
	within, squares := 0, 0
	for y := 0; y < img.Bounds().Dy(); y += side {
		for x := 0; x < img.Bounds().Dx(); x += side {
			var sum colour.LinearRGB
			for at := range side * side {
				r, g, b, _ := img.At(x+at%side, y+at/side).RGBA()
				sum.R, sum.G, sum.B = sum.R+linear(r), sum.G+linear(g), sum.B+linear(b)
			}
			c := colour.LinearRGB{R: sum.R / (side * side), G: sum.G / (side * side), B: sum.B / (side * side)}.Lab()
			if squares++; m.Closest(c, set.Full(m.Len()), gamut.Search).DE <= 3 {
				within++
			}
		}
	}
	again := float64(within) / float64(squares)
	t.Logf("%d tubes reach %.4f, repainted %.4f, counted again %.4f", doc.Minimum.Tubes, doc.Within, doc.Photographs[0].Within, again)
	const edges = 0.004 // the cells are judged by their mean colour
	if doc.Within < 0.97*doc.Ceiling || math.Abs(again-doc.Within) > edges || math.Abs(doc.Photographs[0].Within-again) > edges {
		t.Errorf("said %v of %v, counted again %v", doc.Within, doc.Ceiling, again)
	}
}
