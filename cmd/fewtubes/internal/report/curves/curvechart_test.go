package curves

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image/png"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/solver"
)

// The points stand where their figures say, the fixture's knee is labelled, and both
// panels are drawn on the page and in the files.
func TestCurveDrawn(t *testing.T) {
	c := invented(t)
	file, err := c.Chart("svg")
	if err != nil || !strings.HasPrefix(string(file), "<?xml") {
		t.Fatalf("%v, %.20q", err, file)
	}
	discs := discsOf(string(file))
	if len(discs) != len(c.Points)+len(c.Prices) {
		t.Fatalf("%d discs for %d points and %d prices", len(discs), len(c.Points), len(c.Prices))
	}
	figures := func(p CurvePoint) (float64, float64) { return float64(p.Tubes), float64(p.Tolerance) }
	placed(t, c.Points, discs[:len(c.Points)], figures)
	placed(t, c.Prices, discs[len(c.Points):], func(p CurvePoint) (float64, float64) { return float64(p.Price), float64(p.Tolerance) })
	for words, want := range map[string]int{">turns 6.50</text>": 2, ">tubes</text>": 1, ">indicative price</text>": 1} {
		if got := strings.Count(string(file), words); got != want {
			t.Errorf("%d of %q, want %d", got, words, want)
		}
	}
	part, err := c.Fragment()
	if err != nil || strings.Contains(string(part), " style=") || strings.Contains(string(part), "<html") || !strings.Contains(string(part), "<section") {
		t.Errorf("as part of a page: %v, %s", err, part)
	}
	page, err := c.HTML()
	if err != nil || strings.Count(string(page), "<svg") != 2 || len(discsOf(string(page))) != len(discs) {
		t.Errorf("charts on the page: %d, %v", strings.Count(string(page), "<svg"), err)
	}
}

// What the SVG holds is painted in its place in the PNG.
func TestCurvePainted(t *testing.T) {
	c := invented(t)
	data, err := c.Chart("png")
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if size := img.Bounds().Size(); size.X != 2*2*panelWidth || size.Y != 2*panelHeight {
		t.Errorf("%v", size)
	}
	grey := func(x, y float64) uint32 {
		r, _, _, _ := img.At(int(math.Round(2*x)), int(math.Round(2*y))).RGBA()
		return r >> 8
	}
	file, err := c.Chart("svg")
	if err != nil {
		t.Fatal(err)
	}
	for _, at := range discsOf(string(file)) {
		if grey(at.a, at.b) != 0x1c || grey(at.a+3, at.b+3) != 0xff && grey(at.a+3, at.b-3) != 0xff {
			t.Errorf("no disc at %v", at)
		}
	}
	words := 0
	for _, m := range regexp.MustCompile(`<text x="([0-9.]+)" y="([0-9.]+)" font-size="([0-9]+)" text-anchor="(\w+)"`).FindAllStringSubmatch(string(file), -1) {
		var v [3]float64
		for i := range v {
			v[i], _ = strconv.ParseFloat(m[i+1], 64)
		}
		left := map[string]float64{"start": 0, "middle": -0.3, "end": -1}[m[4]]
		darkest := uint32(0xff)
		for dx := 0.0; dx < v[2]; dx += 0.5 {
			for dy := 0.0; dy < v[2]; dy += 0.5 {
				darkest = min(darkest, grey(v[0]+left*v[2]+dx, v[1]-dy))
			}
		}
		if words++; darkest > 0x80 {
			t.Errorf("nothing is written at %s, %s", m[1], m[2])
		}
	}
	if words < 10 {
		t.Errorf("%d words", words)
	}
}

// Curves of one point, or of colours met exactly, are drawn as well.
func TestCurveOfFewPoints(t *testing.T) {
	for _, points := range [][]CurvePoint{{}, {{Tubes: 1}}, {{Tubes: 3, Tolerance: 2}}, {{Tubes: 1}, {Tubes: 2}}} {
		svg := string(panelSVG(points, false))
		if strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") || len(discsOf(svg)) != len(points) {
			t.Errorf("%v: %s", points, svg)
		}
	}
}

var disc = regexp.MustCompile(fmt.Sprintf(`d="M([0-9.]+) ([0-9.]+)a%[1]g %[1]g [^M"]*" class="ink"`, 3.5))

// discsOf are the middles of the points drawn.
func discsOf(svg string) (out []dot) {
	for _, m := range disc.FindAllStringSubmatch(svg, -1) {
		x, _ := strconv.ParseFloat(m[1], 64)
		y, _ := strconv.ParseFloat(m[2], 64)
		out = append(out, dot{x + 3.5, y})
	}
	return out
}

// placed checks that both scales are even: the first and the last point fix them.
func placed(t *testing.T, points []CurvePoint, discs []dot, figures func(CurvePoint) (x, y float64)) {
	t.Helper()
	last := len(points) - 1
	x0, y0 := figures(points[0])
	x1, y1 := figures(points[last])
	for i, p := range points {
		x, y := figures(p)
		wantX := discs[0].a + (x-x0)/(x1-x0)*(discs[last].a-discs[0].a)
		wantY := discs[0].b + (y-y0)/(y1-y0)*(discs[last].b-discs[0].b)
		if math.Abs(discs[i].a-wantX) > 0.11 || math.Abs(discs[i].b-wantY) > 0.11 { // a tenth is written
			t.Errorf("point %d stands at %v, want %.1f, %.1f", i, discs[i], wantX, wantY)
		}
	}
}

func TestRoundTicks(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      string
	}{
		{0, 32.2, "0 10 20 30"},
		{0, 0.41, "0.0 0.1 0.2 0.3 0.4"},
		{0, 3, "0 1 2"}, // no line on the edge
		{47.3, 51.9, "48 49 50 51"},
		{0, 0, ""},
		{math.NaN(), 1, ""},
	} {
		var labels []string
		for _, tick := range roundTicks(c.low, c.high) {
			labels = append(labels, tick.label)
		}
		if got := strings.Join(labels, " "); got != c.want {
			t.Errorf("%v to %v: %s, want %s", c.low, c.high, got, c.want)
		}
	}
}

func invented(t *testing.T) *Curve {
	t.Helper()
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	held := func(tolerance float64, price int, ids ...string) solver.Point {
		return solver.Point{Tubes: len(ids), Tolerance: tolerance, Palette: ids, Price: price, Proof: solver.Searched}
	}
	points := []solver.Point{
		held(31.2, 850, "titanium-white"),
		held(18.011, 1630, "titanium-white", "burnt-sienna"),
		held(6.5, 2780, "titanium-white", "burnt-sienna", "ultramarine-blue"),
		held(6.2, 4570, "titanium-white", "yellow-ochre", "burnt-sienna", "ultramarine-blue"),
		held(6.1, 6710, "titanium-white", "yellow-ochre", "burnt-sienna", "ultramarine-blue", "viridian"),
	}
	curve := &solver.Curve{Targets: []string{"wet mud", "samphire"}, LeftOut: []string{"buoy"}, Points: points, Prices: points[1:4]}
	return NewCurve(report.Scene{Title: "Salt marsh at ebb tide", Tolerance: 6}, &solver.Problem{Tubes: builtin.Tubes(), Surface: film.Dry, Light: colour.D65()}, curve)
}

func TestCurve(t *testing.T) {
	c := invented(t)
	data, err := shown.JSON(c)
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Points []struct {
			Tubes     int
			Tolerance float64
			Palette   []string
			Proof     string
			Knee      bool
		}
	}
	if err := json.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	if got := doc.Points[1].Tolerance; got != 18.02 {
		t.Errorf("18.011 is shown as %v: the palette would not hold less than 18.02 in two digits", got)
	}
	for i, p := range doc.Points {
		if p.Tubes != i+1 || p.Proof != "search" || len(p.Palette) != p.Tubes || p.Knee != (i == 2) {
			t.Errorf("point %d: %+v", i, p)
		}
	}
}

// dot is a place in the drawing.
type dot struct{ a, b float64 }
