package sheet

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/solver"
)

func tubes(t testing.TB, ids ...string) (out []catalog.Tube) {
	t.Helper()
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range ids {
		tube, err := all.Get(id)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, tube)
	}
	return out
}

var seven = []string{
	"titanium-white", "hansa-yellow-medium", "diarylide-yellow", "cadmium-red-light", "ultramarine-blue", "phthalo-green-blue-shade", "ivory-black",
}

// class is an invented scene of n colours with a recipe each; every fifth is
// out of reach.
func class(t testing.TB, n int) (*solver.Problem, *solver.Palette) {
	t.Helper()
	p := &solver.Problem{Tubes: tubes(t, seven...), Surface: film.Dry, Light: colour.D65()}
	palette := &solver.Palette{Tubes: seven}
	for i := range n {
		parts := []solver.Part{{ID: seven[0], Parts: 1 + i%9}, {ID: seven[1+i%5], Parts: 2}, {ID: seven[2+i%5], Parts: 1}, {ID: "ivory-black", Parts: 1}}
		target := solver.Target{
			Name: fmt.Sprintf("colour %d of the marsh", i+1), Plane: planeOrder[i%5], Area: float64(1 + i*7%n), Tolerance: 3,
			Lab: colour.LCh{L: 28 + 65*float64(i)/float64(n), C: 14, H: float64(i * 40 % 360)}.Lab(),
		}
		p.Targets = append(p.Targets, target)
		o := solver.Outcome{Target: target.Name, Lab: target.Lab, Parts: parts, DE: 1, PartsDE: 1.5, Reached: i%5 != 4}
		for _, part := range parts {
			o.Shares = append(o.Shares, solver.Share{ID: part.ID, Fraction: float64(part.Parts) / 20})
		}
		if i%5 == 4 {
			o.DE, o.PartsDE = 7, 7.5
		}
		palette.Targets = append(palette.Targets, o)
	}
	return p, palette
}

var (
	streamForm = regexp.MustCompile(`(?s)/Filter /FlateDecode /Length (\d+)>>\nstream\n`)
	operator   = regexp.MustCompile(`(?m)^(?:([\d.]+) ([\d.]+) ([\d.]+) rg|([\d.]+) g|(-?[\d.]+) (-?[\d.]+) (-?[\d.]+) (-?[\d.]+) re f)$`)
)

// filled reads the colours of all filled rectangles back from a PDF, in the
// order they are painted, coded sRGB 0..255.
func filled(t testing.TB, pdf []byte) (out [][3]float64) {
	t.Helper()
	for _, content := range contents(t, pdf) {
		var now [3]float64
		for _, m := range operator.FindAllStringSubmatch(content, -1) {
			switch {
			case m[1] != "":
				now = [3]float64{coded(t, m[1]), coded(t, m[2]), coded(t, m[3])}
			case m[4] != "":
				now = [3]float64{coded(t, m[4]), coded(t, m[4]), coded(t, m[4])}
			default:
				out = append(out, now)
			}
		}
	}
	return out
}

func coded(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return 255 * v
}

// contents are the unpacked page streams of a PDF.
func contents(t testing.TB, pdf []byte) (out []string) {
	t.Helper()
	for _, at := range streamForm.FindAllSubmatchIndex(pdf, -1) {
		length, err := strconv.Atoi(string(pdf[at[2]:at[3]]))
		if err != nil {
			t.Fatal(err)
		}
		r, err := zlib.NewReader(bytes.NewReader(pdf[at[1] : at[1]+length]))
		if err != nil {
			t.Fatal(err)
		}
		b, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, string(b))
	}
	if len(out) == 0 {
		t.Fatal("no page streams in the PDF")
	}
	return out
}
