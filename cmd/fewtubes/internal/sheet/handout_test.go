package sheet

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/solver"

	"pgregory.net/rapid"
)

// One page, whatever the number of colours; what is printed is the colour of
// the scene beside that of the recipe, and what is left out is counted.
func TestHandoutIsOnePage(t *testing.T) {
	for _, n := range []int{1, 8, 22, 40, 90} {
		p, palette := class(t, n)
		h := NewHandout("Salt marsh at ebb tide", p, palette)
		for _, paper := range []Paper{A4, Letter} {
			pdf, err := h.PDF(paper)
			if err != nil {
				t.Fatal(err)
			}
			pages := contents(t, pdf)
			if len(pages) != 1 || bytes.Count(pdf, []byte("/MediaBox")) < 1 {
				t.Errorf("%d colours on %s: %d pages", n, paper.Name, len(pages))
			}
			shown := (len(filled(t, pdf)) - len(h.Tubes)) / 2
			left := n - shown
			note := fmt.Sprintf("%d colours of the smallest areas", left)
			if left == 1 {
				note = "1 colour, of the smallest area,"
			}
			if strings.Contains(pages[0], note) != (left > 0) {
				t.Errorf("%d colours on %s: %d shown, but the page does not say so", n, paper.Name, shown)
			}
			if out, err := h.LeftOut(paper); err != nil || len(out) != left {
				t.Errorf("%d colours on %s: %d shown, but %d are said to be left out, %v", n, paper.Name, shown, len(out), err)
			}
			if n <= 24 && left > 0 {
				t.Errorf("%d colours on %s: %d left out", n, paper.Name, left)
			}
			checkReadable(t, pdf, paper)
		}
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
	for _, want := range []string{`colour 1 of the marsh \(5.0YR 3.00/2.0\)`, "C to D65 by Bradford"} {
		if !strings.Contains(contents(t, pdf)[0], want) {
			t.Errorf("the page does not say %s", want)
		}
	}
}

var mud, _ = colour.Munsell{Hue: 15, Value: 3, Chroma: 2}.Lab()

// Whatever a scene is called, it prints on one page within the margins.
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
