package sheet

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/colour"
	"fewtubes/solver"

	"pgregory.net/rapid"
)

// Two pages, whatever the number of colours, and 40 of them find room on A4; what
// is printed is the colour of the scene beside that of the recipe, and what is left
// out is counted and named.
func TestHandoutIsTwoPages(t *testing.T) {
	for _, n := range []int{1, 8, 22, 24, 40, 90} {
		p, palette := class(t, n)
		h := NewHandout("Salt marsh at ebb tide", p, palette)
		for _, paper := range []Paper{A4, Letter} {
			pdf, err := h.PDF(paper)
			if err != nil {
				t.Fatal(err)
			}
			pages := contents(t, pdf)
			if len(pages) != 2 {
				t.Fatalf("%d colours on %s: %d pages", n, paper.Name, len(pages))
			}
			shown := (len(filled(t, pdf)) - len(h.Tubes)) / 2
			left := n - shown
			note := fmt.Sprintf("No room for the %d colours of the smallest areas: ", left)
			if left == 1 {
				note = "No room for the colour of the smallest area: "
			}
			if strings.Contains(pages[1], note) != (left > 0) {
				t.Errorf("%d colours on %s: %d shown, but the page does not say so", n, paper.Name, shown)
			}
			out, err := h.LeftOut(paper)
			if err != nil || len(out) != left {
				t.Errorf("%d colours on %s: %d shown, but %d are said to be left out, %v", n, paper.Name, shown, len(out), err)
			}
			if left > 0 && !strings.Contains(pages[1], out[0]) {
				t.Errorf("%d colours on %s: %s is left out and not named", n, paper.Name, out[0])
			}
			if n <= 40 && left > 0 && paper == A4 {
				t.Errorf("%d colours on %s: %d left out", n, paper.Name, left)
			}
			checkReadable(t, pdf, paper)
		}
	}
}

// The plan shows the pictures with their marks and the values in few steps, and
// stays on its page; the steps are printed in the greys meant.
func TestHandoutPlan(t *testing.T) {
	p, palette := class(t, 24)
	h := NewHandout("Salt marsh at ebb tide", p, palette)
	thumb := Thumbnail{Picture: image.NewRGBA(image.Rect(0, 0, 90, 60))}
	for i := range 24 {
		thumb.Mark(i, 0.5, 0.5) // all at one place
	}
	h.Pictures = []Thumbnail{thumb, {Words: "The picture is not there."}}
	h.Values = values.Grey{W: 60, H: 40}
	for i := range h.Values.W * h.Values.H {
		h.Values.L = append(h.Values.L, 20+70*float64(i)/2400)
	}
	h.Plans = values.Alternatives(h.Values, 3)
	var want []Swatch
	for _, a := range h.Plans {
		for _, l := range a.Plan.Levels {
			want = append(want, printed(colour.Lab{L: l}))
		}
	}
	want = append(want, h.Mass...)
	for _, plane := range h.columnsOf() {
		want = append(want, plane.Target, plane.Mixed)
	}
	for _, paper := range []Paper{A4, Letter} {
		pdf, err := h.PDF(paper)
		if err != nil {
			t.Fatal(err)
		}
		if n := bytes.Count(pdf, []byte("/Type /Page\n")); n != 2 {
			t.Errorf("%d pages", n)
		}
		for range 8 { // three pictures are of one width
			if again, err := h.PDF(paper); err != nil || !bytes.Equal(again, pdf) {
				t.Fatalf("another run gives other bytes, %v", err)
			}
		}
		checkPrinted(t, filled(t, pdf), want)
		checkReadable(t, pdf, paper)
		for i := range 24 {
			if !strings.Contains(contents(t, pdf)[0], fmt.Sprintf("(%d)Tj", i+1)) {
				t.Errorf("no mark %d", i+1)
			}
		}
	}
}

// columnsOf are the mixes in the order they are printed.
func (h *Handout) columnsOf() (out []Mix) {
	for _, plane := range h.Planes {
		out = append(out, plane.Mixes...)
	}
	return out
}

// Recipes from a base stand together under it, plane by plane.
func TestHandoutBases(t *testing.T) {
	p, palette := class(t, 12)
	m := hand.Usual()
	m.Bases = []hand.BaseOf{{{Tube: "diarylide-yellow", Parts: 2}, {Tube: "ultramarine-blue", Parts: 1}}}
	h, err := NewHandoutByHand(context.Background(), "Marsh", p, palette, m)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(h.Order[0], "Prepare first: base 1 of 2 diarylide yellow + 1 ultramarine blue") {
		t.Errorf("%q", h.Order[0])
	}
	from := 0
	for _, plane := range h.Planes {
		for j, mix := range plane.Mixes {
			if mix.base != "" {
				from++
			}
			if j > 0 && plane.Mixes[j-1].base > mix.base {
				t.Errorf("%s: %q stands before %q", plane.Name, plane.Mixes[j-1].base, mix.base)
			}
		}
	}
	pdf, err := h.PDF(A4)
	if err != nil {
		t.Fatal(err)
	}
	if pages := contents(t, pdf); from == 0 || !strings.Contains(pages[1], ", from base 1)Tj") {
		t.Errorf("%d mixes are made from a base, and no heading says so", from)
	}
}

func TestHandoutSwatches(t *testing.T) {
	p, palette := class(t, 16)
	h := NewHandout("Marsh", p, palette)
	want := append([]Swatch{}, h.Mass...)
	for _, plane := range h.Planes {
		for _, m := range plane.Mixes {
			want = append(want, m.Target, m.Mixed)
		}
	}
	pdf, err := h.PDF(A4)
	if err != nil {
		t.Fatal(err)
	}
	checkPrinted(t, filled(t, pdf), want)
}

// Planes come in the order of work, each from dark to light, with the recipe in
// parts, and a missed colour says how it misses.
func TestHandoutContent(t *testing.T) {
	p, palette := class(t, 10)
	h := NewHandout("Marsh", p, palette)
	var planes []string
	for _, plane := range h.Planes {
		planes = append(planes, plane.Name)
		for i, m := range plane.Mixes {
			if i > 0 && m.Target.Lab.L < plane.Mixes[i-1].Target.Lab.L {
				t.Errorf("%s: %s is darker than the one before", plane.Name, m.Name)
			}
			if (m.Words == "") != m.Reached {
				t.Errorf("%s: reached %v, words %q", m.Name, m.Reached, m.Words)
			}
		}
	}
	if got := strings.Join(planes, ","); got != "sky,distance,middle,foreground," {
		t.Errorf("planes %s", got)
	}
	if got := h.Planes[0].Mixes[1].Recipe; got != "6 titanium white + 2 hansa yellow medium + 1 diarylide yellow + 1 ivory black" {
		t.Errorf("recipe %q", got)
	}
	order := strings.Join(h.Order, "\n")
	for _, want := range []string{"beginning with colour 1 of the marsh (v 2.8)", "colour 10 of the marsh", "sky, distance, middle, foreground", "Fat over lean"} {
		if !strings.Contains(order, want) {
			t.Errorf("the order of work does not say %q:\n%s", want, order)
		}
	}
}

// Where whole parts lose more than 1.0 against the mix, the strong tinter is
// let down and the recipe comes nearer; what stays out of reach says how.
func TestHandoutLetsDown(t *testing.T) {
	p, palette := class(t, 1)
	e := easel{p.Light, p.Surface}
	tinted := tubes(t, "titanium-white", "phthalo-green-blue-shade")
	target := e.swatch(tinted, []int{199, 1}).Lab
	p.Targets[0].Lab = target
	palette.Targets[0] = solver.Outcome{
		Target: "low sky", Lab: target, Reached: true, DE: 0,
		Shares: []solver.Share{{ID: "titanium-white", Fraction: 0.995}, {ID: "phthalo-green-blue-shade", Fraction: 0.005}},
		Parts:  []solver.Part{{ID: "titanium-white", Parts: 1}},
	}
	palette.Targets[0].PartsDE = colour.DE2000(e.swatch(tinted[:1], []int{1}).Lab, target)
	m := NewHandout("Marsh", p, palette).Planes[0].Mixes[0]
	if !m.LetDown || !m.Reached || m.DE > 1 || !strings.Contains(m.Recipe, "phthalo green (") {
		t.Errorf("%q, off by %v", m.Recipe, m.DE)
	}
	if d := colour.DE2000(m.Mixed.Lab, target); d != m.DE {
		t.Errorf("the swatch is off by %v, the recipe by %v", d, m.DE)
	}
}

func TestHandoutMissWords(t *testing.T) {
	p, palette := class(t, 2)
	palette.Targets[1].PartsDE, palette.Targets[1].DE, palette.Targets[1].Reached = 5, 5, false
	h := NewHandout("Marsh", p, palette)
	if got := h.Planes[1].Mixes[0].Words; !strings.HasPrefix(got, "off by 5.0: too ") {
		t.Errorf("%q", got)
	}
}

func TestHandoutMunsell(t *testing.T) {
	p, palette := class(t, 3)
	p.Targets[0].Lab, palette.Targets[0].Lab = mud, mud
	h := NewHandout("Marsh", p, palette)
	h.Munsell = true
	pdf, err := h.PDF(A4)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`1 colour 1 of the marsh \(5.0YR 3.00/2.0\)`, "C to D65 by Bradford"} {
		if !strings.Contains(strings.Join(contents(t, pdf), ""), want) {
			t.Errorf("the page does not say %s", want)
		}
	}
}

var mud, _ = colour.Munsell{Hue: 15, Value: 3, Chroma: 2}.Lab()

// Whatever a scene is called, it prints within the margins.
func TestOddNames(t *testing.T) {
	p, palette := class(t, 5)
	rapid.Check(t, func(rt *rapid.T) {
		text := rapid.String().Draw(rt, "text")
		palette.Targets[0].Target = text
		pdf, err := NewHandout(text, p, palette).PDF(A4)
		if err != nil {
			rt.Fatal(err)
		}
		checkReadable(t, pdf, A4)
	})
}

// Zinc white is known to make films brittle; the class is told.
func TestHandoutZincWhite(t *testing.T) {
	p, palette := class(t, 1)
	p.Tubes = append(p.Tubes, tubes(t, "zinc-white")...)
	if order := strings.Join(NewHandout("Marsh", p, palette).Order, " "); strings.Contains(order, "brittle") {
		t.Error("no zinc white in the palette, yet the order of work warns of it")
	}
	palette.Tubes = append([]string{"zinc-white"}, palette.Tubes...)
	if order := strings.Join(NewHandout("Marsh", p, palette).Order, " "); !strings.Contains(order, "brittle") {
		t.Error("the order of work does not warn of zinc white")
	}
}
