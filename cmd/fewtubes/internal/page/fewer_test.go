package page

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"encoding/json"
	"testing"

	"fewtubes/cmd/fewtubes/internal/scene"

	"github.com/chromedp/chromedp"
)

// address is a scene as the page keeps it in its address.
func address(t *testing.T, s *state) string {
	t.Helper()
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	var packed bytes.Buffer
	w, err := flate.NewWriter(&packed, flate.BestCompression)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Write(text); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return "#s=" + base64.RawURLEncoding.EncodeToString(packed.Bytes())
}

// Where limits leave a palette more tubes than its reach needs, the page says so and
// shows the smaller one on request.
func TestSmallerPaletteIsOffered(t *testing.T) {
	budget := 40.0
	shown := newState(&scene.Scene{
		Title: "Ebb", Tolerance: 3, Light: "D65",
		Limits: scene.Limits{Budget: &budget, PaintsPerMix: 3, Only: []string{
			"cadmium-orange", "indanthrone-blue", "cobalt-turquoise", "light-red", "cobalt-violet-dark",
			"zirconium-cerulean-blue", "green-earth", "cadmium-red-light", "ultramarine-blue", "ivory-black",
		}},
		Targets: []scene.Target{
			{Name: "moss", Colour: "lab(29.8 -2.3 2.2)", Area: 1, Tolerance: 1.9},
			{Name: "deep channel", Colour: "lab(33.9 -3.2 -28.4)", Area: 1, Tolerance: 1.6},
			{Name: "wet shade", Colour: "lab(25.6 1.3 -4.9)", Area: 4, Tolerance: 1.7},
			{Name: "brick", Colour: "lab(45.8 16.3 18.5)", Area: 1, Tolerance: 1.1},
			{Name: "tile", Colour: "lab(37.6 23.3 14.3)", Area: 6, Tolerance: 1.5},
			{Name: "hollow", Colour: "lab(24.7 0.3 -2.5)", Area: 7, Tolerance: 2},
		},
	})
	b := browser(t)
	b.do(chromedp.Evaluate[chromedp.Void](`location.hash = "` + address(t, &shown) + `"`))
	b.until(learned)
	b.want(`document.getElementById("result").textContent.includes("Fewer tubes reach as much")`)
	const row = `tr[data-palette="ultramarine-blue,light-red,ivory-black"]`
	b.want(`document.querySelectorAll('` + row + ` button').length === 2`)
	b.shot("fewer")
	b.do(chromedp.Click(row + " button"))
	b.until(`document.getElementById("result").textContent.includes("What these tubes reach in")`)
	b.until(learned)
	b.want(`document.getElementById("result").textContent.includes("What to add")`)
	b.shot("checked")
	b.quiet()
}
