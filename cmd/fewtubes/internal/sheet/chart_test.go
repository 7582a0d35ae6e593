package sheet

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

func sevenChart(t testing.TB) *Chart {
	return NewChart("Practice chart", tubes(t, seven...), colour.D65(), film.Dry)
}

// Every pair of coloured tubes stands on the chart once, every coloured tube
// has its ladder, in the order of the palette.
func TestChartIsComplete(t *testing.T) {
	c := sevenChart(t)
	if len(c.Ladders) != 6 || len(c.Pairs) != 15 {
		t.Fatalf("%d ladders and %d pairs of six coloured tubes", len(c.Ladders), len(c.Pairs))
	}
	seen := map[string]bool{}
	for _, r := range c.Pairs {
		if seen[r.Name()] || len(r.Swatches) != len(pairSteps) {
			t.Errorf("%s stands there twice, or in %d steps", r.Name(), len(r.Swatches))
		}
		seen[r.Name()] = true
	}
	if c.White != "Titanium white" || c.Red != "Cadmium red light" {
		t.Errorf("white %q, red %q", c.White, c.Red)
	}
}

// A swatch is the opaque film of its parts, worked out here band by band from
// K and S (Kubelka and Munk 1931, Saunderson 1942).
func TestSwatchColours(t *testing.T) {
	c := sevenChart(t)
	rows := append(slices.Clone(c.Ladders), c.Pairs...)
	for _, g := range c.Greens {
		rows = append(rows, g.Rows...)
	}
	for _, r := range rows {
		for _, s := range r.Swatches {
			var seen colour.Spectrum
			for b := range seen {
				k, sc := 0.0, 0.0
				for i, n := range s.Parts {
					k += float64(n) * r.Tubes[i].Paint.K[b]
					sc += float64(n) * r.Tubes[i].Paint.S[b]
				}
				q := k / sc
				inside := 1 + q - math.Sqrt(q*q+2*q)
				seen[b] = 0.03 + 0.97*0.35*inside/(1-0.65*inside)
			}
			if d := colour.DE2000(colour.D65().Lab(&seen), s.Lab); d > 1e-6 {
				t.Errorf("%s %s is off by %v", r.Name(), s.Label(), d)
			}
		}
	}
}

// Greens are green, and each row down is duller: red takes chroma (common
// practice, no source).
func TestGreensAreRoundedOff(t *testing.T) {
	c := sevenChart(t)
	if len(c.Greens) < 4 {
		t.Fatalf("%d green grids", len(c.Greens))
	}
	for _, g := range c.Greens {
		if len(g.Rows) != len(redSixteenths) {
			t.Fatalf("%d rows", len(g.Rows))
		}
		middle := len(greenSteps) / 2
		if !isGreen(g.Rows[0].Swatches[middle].Lab) {
			t.Errorf("%s is %v", g.Rows[0].Name(), colour.Name(g.Rows[0].Swatches[middle].Lab))
		}
		plain, least := g.Rows[0].Swatches[middle].Lab, g.Rows[1].Swatches[middle].Lab
		if least.LCh().C >= plain.LCh().C && least.A <= plain.A {
			t.Errorf("%s: a little red makes it greener", g.Rows[0].Name())
		}
	}
}

func TestChartWithoutWhiteOrRed(t *testing.T) {
	c := NewChart("x", tubes(t, "hansa-yellow-medium", "ultramarine-blue"), colour.D65(), film.Dry)
	if c.White != "" || c.Red != "" || len(c.Ladders) != 0 || len(c.Pairs) != 1 || len(c.Greens) != 1 {
		t.Errorf("white %q, red %q, %d ladders, %d pairs, %d grids", c.White, c.Red, len(c.Ladders), len(c.Pairs), len(c.Greens))
	}
	pdf, err := c.PDF(Letter)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(contents(t, pdf), "\n")
	for _, want := range []string{"no white, so there are no tint ladders", "No tube of this palette is a red"} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet does not say %q", want)
		}
	}
}

// The whole catalogue as one palette still makes a chart, greens capped.
func TestChartOfEverything(t *testing.T) {
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	c := NewChart("All", all.Tubes(), colour.D65(), film.Dry)
	if len(c.Greens) != MostGreens || c.LeftOut == 0 {
		t.Errorf("%d grids, %d left out", len(c.Greens), c.LeftOut)
	}
	if _, err := c.PDF(A4); err != nil {
		t.Fatal(err)
	}
}

// printTolerance is what a swatch may be off, of 255.
const printTolerance = 1.0

// Swatches read back from the PDF are the colours meant, in order.
func TestPrintedSwatches(t *testing.T) {
	c := sevenChart(t)
	want := slices.Clone(c.Mass)
	for _, r := range append(slices.Clone(c.Ladders), c.Pairs...) {
		want = append(want, r.Swatches...)
	}
	for _, g := range c.Greens {
		for _, r := range g.Rows {
			want = append(want, r.Swatches...)
		}
	}
	for _, paper := range []Paper{A4, Letter} {
		pdf, err := c.PDF(paper)
		if err != nil {
			t.Fatal(err)
		}
		checkPrinted(t, filled(t, pdf), want)
	}
}

func checkPrinted(t *testing.T, got [][3]float64, want []Swatch) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d swatches printed, want %d", len(got), len(want))
	}
	for i, w := range want {
		c := w.Lab.SRGB()
		for k, v := range [3]float64{c.R, c.G, c.B} {
			v = 255 * min(max(v, 0), 1)
			if math.Abs(got[i][k]-v) > printTolerance {
				t.Errorf("swatch %d (%v): printed %v, want %v in channel %d", i, w.Lab, got[i], v, k)
			}
		}
		if shown := (colour.SRGB{R: got[i][0] / 255, G: got[i][1] / 255, B: got[i][2] / 255}).Lab(); !w.Clipped && colour.DE2000(shown, w.Lab) > 1 {
			t.Errorf("swatch %d: printed %v, meant %v", i, shown, w.Lab)
		}
	}
}

func TestPaperIsExact(t *testing.T) {
	for paper, box := range map[Paper]string{
		A4:     "/MediaBox [0 0 595.28 841.89]", // 210 x 297 mm in points of 1/72 inch
		Letter: "/MediaBox [0 0 612.00 792.00]", // 8.5 x 11 inches
	} {
		pdf, err := sevenChart(t).PDF(paper)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Contains(pdf, []byte(box)) {
			t.Errorf("%s: no %s", paper.Name, box)
		}
	}
}

func TestParsePaper(t *testing.T) {
	for name, want := range map[string]Paper{"A4": A4, "a4": A4, "letter": Letter} {
		if got, err := ParsePaper(name); err != nil || got != want {
			t.Errorf("%q: %v, %v", name, got, err)
		}
	}
	if _, err := ParsePaper("A3"); err == nil || !strings.Contains(err.Error(), "A4 or Letter") {
		t.Errorf("A3: %v", err)
	}
}

func TestSameSheetSameBytes(t *testing.T) {
	first, err := sevenChart(t).PDF(A4)
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		again, err := sevenChart(t).PDF(A4)
		if err != nil || !bytes.Equal(first, again) {
			t.Fatalf("another run gives other bytes, %v", err)
		}
	}
}

// No type is smaller than can be read, and nothing leaves the page.
func TestNothingTooSmallOrOffThePage(t *testing.T) {
	c := sevenChart(t)
	c.Title = strings.Repeat("A very long title ", 30) + "ΔE 日本 “quoted” (brackets) \\ \x07"
	pdf, err := c.PDF(A4)
	if err != nil {
		t.Fatal(err)
	}
	checkReadable(t, pdf, A4)
}
