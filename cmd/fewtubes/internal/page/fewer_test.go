package page

import (
	"testing"

	"fewtubes/cmd/fewtubes/internal/scene"

	"github.com/chromedp/chromedp"
)

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
	sc, err := shown.scene()
	if err != nil {
		t.Fatal(err)
	}
	b.open(string(scene.Format(sc)))
	b.until(learned)
	if !reported[bool](b, `doc.body.textContent.includes("Fewer tubes reach as much") && doc.querySelector('tr[data-palette="ultramarine-blue,light-red,ivory-black"]') !== null`) {
		t.Error("the smaller palette is not told of")
	}
	b.eval(`import("/ask.js").then((a) => { a.ask(["ultramarine-blue", "light-red", "ivory-black"]); return true; })`)
	b.until(learned + ` && document.getElementById("answer").dataset.answer === "ultramarine-blue,light-red,ivory-black"`)
	if !reported[bool](b, `doc.body.textContent.includes("What these tubes reach in") && doc.body.textContent.includes("What to add")`) {
		t.Error("what these tubes reach is not told")
	}
	b.do(chromedp.Click("#back"))
	b.until(learned + ` && document.getElementById("answer").dataset.answer !== "ultramarine-blue,light-red,ivory-black"`)
	b.quiet()
}
