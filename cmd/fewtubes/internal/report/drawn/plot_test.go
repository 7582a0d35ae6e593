package drawn

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// The outline of the palette is covered outside of the grid, and the words of the
// axes stand there and nowhere else.
func TestWordsStandOutside(t *testing.T) {
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	paints := []film.Paint{all.Tubes()[0].Paint, all.Tubes()[4].Paint, all.Tubes()[40].Paint}
	green := Colour{Name: "samphire", Lab: shown.Lab{50, -20, 30}, Mix: shown.Lab{51, -15, 24}}
	text := string(Plot([]Colour{green}, paints, gamut.Options{Surface: film.Dry, Light: colour.D65(), PaintsPerMix: 4}, nil))
	drawn, words := strings.Index(text, `class="reach"`), strings.Index(text, ">yellow</text>")
	if covered := strings.Index(text, `class="around"`); drawn < 0 || covered < drawn || words < covered {
		t.Errorf("outline at %d, cover at %d, words at %d", drawn, covered, words)
	}
	for word, outside := range map[string]func(x, y float64) bool{
		"red":    func(x, _ float64) bool { return x > plotSize-plotMargin },
		"green":  func(x, _ float64) bool { return x < plotMargin },
		"yellow": func(_, y float64) bool { return y < plotMargin },
		"blue":   func(_, y float64) bool { return y > plotSize-plotMargin+8 }, // y is the foot of the letters
	} {
		m := regexp.MustCompile(`<text x="([0-9.]+)" y="([0-9.]+)"[^>]*>` + word + `</text>`).FindStringSubmatch(text)
		if m == nil {
			t.Fatalf("no %q", word)
		}
		x, errX := strconv.ParseFloat(m[1], 64)
		y, errY := strconv.ParseFloat(m[2], 64)
		if errX != nil || errY != nil || !outside(x, y) {
			t.Errorf("%q stands at %s, %s", word, m[1], m[2])
		}
	}
}

// Every mark has its number, within the drawing and clear of the number before.
func TestNumbersHaveRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const radius, size = 6, 11
		n := rapid.IntRange(1, 24).Draw(t, "marks")
		spread := rapid.Float64Range(5, 150).Draw(t, "spread")
		var marks []numbered
		for i := range n {
			at := func(name string) float64 {
				return plotSize/2 + spread*rapid.Float64Range(-1, 1).Draw(t, name)
			}
			marks = append(marks, numbered{i + 1, point{at("a"), at("b")}})
		}
		var b strings.Builder
		number(&b, marks, radius, size, nil)
		var written []point
		for _, m := range regexp.MustCompile(`<text x="([0-9.-]+)" y="([0-9.-]+)"[^>]*>(\d+)<`).FindAllStringSubmatch(b.String(), -1) {
			x, _ := strconv.ParseFloat(m[1], 64)
			y, _ := strconv.ParseFloat(m[2], 64)
			at := point{x, y - size*0.36}
			if min(at.a, at.b) < size-0.1 || max(at.a, at.b) > plotSize-size+0.1 {
				t.Fatalf("%s stands at %v", m[3], at)
			}
			if near := nearestTo(at, written); near < size/2. {
				t.Fatalf("%s lies on another number, %.1f away", m[3], near)
			}
			written = append(written, at)
		}
		if len(written) != n {
			t.Fatalf("%d numbers for %d marks", len(written), n)
		}
	})
}
