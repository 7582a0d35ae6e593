package sheet

import (
	"context"
	"errors"
	"image"
	"strconv"
	"strings"
	"testing"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/hand"
)

func lid(t *testing.T, colours int, m hand.Measures) *Lid {
	t.Helper()
	p, palette := class(t, colours)
	l, err := NewLid(context.Background(), "Salt marsh at ebb tide", p, palette, m, catalog.InSentence)
	if err != nil {
		t.Fatal(err)
	}
	thumb := Thumbnail{Picture: image.NewRGBA(image.Rect(0, 0, 90, 60))}
	for i := range colours {
		thumb.Mark(i, 0.5, 0.5) // all at one place
	}
	l.Pictures = []Thumbnail{thumb, {Words: "The picture is not there."}}
	return l
}

// 24 colours find room on one side in type of 8 points or more, every number stands
// beside the picture's other numbers, and the swatches are those of scene and mix.
func TestLidIsOneSide(t *testing.T) {
	for _, m := range []hand.Measures{hand.Usual(), {Exact: true, Parts: 20}} {
		for _, n := range []int{1, 7, 24} {
			l := lid(t, n, m)
			pdf, err := l.PDF()
			if err != nil {
				t.Fatal(err)
			}
			pages := contents(t, pdf)
			if len(pages) != 1 {
				t.Fatalf("%d colours: %d pages", n, len(pages))
			}
			checkReadable(t, pdf, A4)
			for _, font := range fontForm.FindAllStringSubmatch(pages[0], -1) {
				if size, err := strconv.ParseFloat(font[1], 64); err != nil || size < 8 {
					t.Errorf("type of %s points", font[1])
				}
			}
			var want []Swatch
			for _, tube := range l.Tubes {
				want = append(want, tube.Mass)
			}
			for _, mix := range l.Mixes {
				want = append(want, mix.Target, mix.Mixed)
			}
			checkPrinted(t, filled(t, pdf), want)
			checkApart(t, pages[0], n)
		}
	}
}

// checkApart finds where the numbers of the marks stand.
func checkApart(t *testing.T, page string, n int) {
	t.Helper()
	var at []spot
	for i := range n {
		_, before, _ := strings.Cut(page, "("+strconv.Itoa(i+1)+")Tj")
		head := page[:len(page)-len(before)]
		places := textForm.FindAllStringSubmatch(head, -1)
		last := places[len(places)-1]
		at = append(at, spot{parse(t, last[1]), parse(t, last[2])})
	}
	for i := range at {
		for k := range i {
			if at[i].to(at[k]) < 3*72/25.4 {
				t.Errorf("numbers %d and %d stand on each other", k+1, i+1)
			}
		}
	}
}

// More colours than can be read are refused rather than printed small.
func TestLidRefusesWhatCannotBeRead(t *testing.T) {
	if _, err := lid(t, 60, hand.Usual()).PDF(); !errors.Is(err, errLidFull) {
		t.Errorf("60 colours: %v", err)
	}
}
