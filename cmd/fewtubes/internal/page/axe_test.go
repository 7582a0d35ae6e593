package page

import (
	"fmt"
	"os"
	"testing"

	"github.com/chromedp/chromedp"
)

// axe-core 4.14.1, which make axe fetches.
const axeFile = "../../../../bin/axe-4.14.1.min.js"

// accessible looks at the page with a few of its eighty cards, which are alike;
// TestStatesAreAccessible looks at all of them.
func (b *tab) accessible(name string) {
	b.t.Helper()
	b.accessibleIn(name, `{exclude: ["#cards li:nth-child(n+9)"]}`)
}

// accessibleIn runs axe-core over the page as it stands, at both widths, in light
// and dark surroundings; no rule may be broken. Where dark is other colours and
// nothing else, the rules that are about colours are asked again and no others.
func (b *tab) accessibleIn(name, context string) {
	b.t.Helper()
	b.want(darkIsColourAlone)
	for _, scheme := range []string{"light", "dark"} {
		b.scheme(scheme)
		rules := ""
		if scheme == "dark" {
			rules = `, runOnly: ["cat.color"], rules: {"color-contrast-enhanced": {enabled: false}}` // a tag turns on what is off, too
		}
		for _, width := range []int64{390, 1440} {
			b.do(chromedp.EmulateViewport(width, 900))
			state := fmt.Sprintf("%s-%d-%s", name, width, scheme)
			b.shot(state)
			for _, broken := range value[[]string](b, `axe.run(`+context+`, {resultTypes: ["violations"]`+rules+`}).then((r) => r.violations.flatMap((v) => v.nodes.map((n) => v.id + ": " + n.target + ": " + n.failureSummary.replaceAll("\n", " "))))`) {
				b.t.Errorf("%s: %s", state, broken)
			}
			b.fits(state, width)
		}
	}
	b.scheme("light")
	const narrowest = 320 // WCAG 2.2, success criterion 1.4.10, Reflow
	b.fits(name, narrowest)
	b.do(chromedp.EmulateViewport(1440, 900))
}

// darkIsColourAlone asks every declaration for dark surroundings.
const darkIsColourAlone = `(() => {
	const dark = [...document.styleSheets].flatMap((s) => [...s.cssRules]).filter((r) => r.media?.mediaText.includes("prefers-color-scheme")).flatMap((r) => [...r.cssRules]);
	return dark.length > 0 && dark.every((r) => [...r.style].every((p) => p.startsWith("--") ? CSS.supports("color", r.style.getPropertyValue(p)) : /^(color|background|stroke|fill)/.test(p)));
})()`

// fits wants a page of some width without scrolling sideways.
func (b *tab) fits(state string, width int64) {
	b.t.Helper()
	b.do(chromedp.EmulateViewport(width, 900))
	if over := value[int](b, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
		b.t.Errorf("%s: %d px wider than the window of %d", state, over, width)
	}
}

// withAxe loads the checker into the page through the debugger, past its policy.
func (b *tab) withAxe() {
	b.t.Helper()
	script, err := os.ReadFile(axeFile)
	if err != nil {
		b.t.Fatalf("%v: make axe fetches it", err)
	}
	b.do(chromedp.Evaluate[chromedp.Void](string(script) + "; undefined"))
}

const marsh = "wet mud = lab(38 4 9)\nfar shore = lab(62 0.5 -9)\nsamphire = lab(38 34 18)\nsunlit grass = lab(62 -14 42)\n"

// Every state of the page keeps the rules of axe-core (WCAG 2 A and AA and best
// practice) and needs no scrolling sideways.
func TestStatesAreAccessible(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.withAxe()
	b.accessibleIn("empty", "document")

	b.typeColours(marsh)
	b.until(learned)
	b.accessibleIn("answer", "document")

	b.set("#filter [name=hue]", "yellow")
	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("#cards summary").click()`))
	b.accessibleIn("tubes", "document")
	b.set("#filter [name=hue]", "")
	b.quiet()
}

// A scene of which something is out of reach, under limits that pull against
// each other.
func TestMissesAreAccessible(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.withAxe()
	b.typeColours(marsh + "flare = lab(60 90 60)\n")
	b.until(learned)
	b.set("[name=maxTubes]", "2")
	b.until(learned + ` && document.getElementById("result").textContent.includes("Limits that pull against each other")`)
	b.accessible("missed")
	b.quiet()
}

// fewTubes is a scene that may choose from nine tubes only, so that a curve
// takes little time.
const fewTubes = `format = 1
title = "Ebb"

[limits]
only = ["titanium-white", "cadmium-lemon", "yellow-ochre", "pyrrole-red", "madder-lake", "ultramarine-blue", "cerulean-blue", "burnt-sienna", "ivory-black"]

[[target]]
name = "wet mud"
colour = "lab(38 4 9)"

[[target]]
name = "far shore"
colour = "lab(62 0.5 -9)"

[[target]]
name = "sunlit grass"
colour = "lab(62 -10 35)"
`

// open opens a scene file.
func (b *tab) open(text string) {
	b.t.Helper()
	b.do(chromedp.SetUploadFiles("#open-file", []string{b.keep(text)}))
}

// Palettes side by side, the curve, and what comes from the mixing table.
func TestWeighingAndMixingAreAccessible(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.withAxe()
	b.open(fewTubes)
	b.until(learned)
	b.do(chromedp.Click("#hold"))
	b.until(`document.querySelectorAll("#held li").length === 1`)
	b.set("[name=maxTubes]", "2")
	b.until(learned + ` && document.getElementById("result").dataset.answer.split(",").length === 2`)
	b.do(chromedp.Click("#hold"))
	b.until(`document.querySelectorAll("#held li").length === 2`)
	b.do(chromedp.Click("#compare"))
	b.until(`document.querySelector("#compared table") !== null`)
	b.do(chromedp.Click("#draw-curve"))
	b.until(`document.querySelector("#curved svg") !== null`)
	b.accessible("weighed")

	b.mixes("#mix-form button", "mix", map[string]string{"#mix-colour": "lab(45 3 8)"})
	b.mixes("#pile-form button", "pile", map[string]string{"#pile-parts": "3:ultramarine-blue, 1:yellow-ochre"})
	b.mixes("[data-do=correct]", "correct", map[string]string{"#pile-want": "lab(40 4 12)"})
	b.quiet()
}

// mixes asks the mixing table and looks at what it says.
func (b *tab) mixes(button, name string, fields map[string]string) {
	b.t.Helper()
	b.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("mixed").replaceChildren()`))
	for field, text := range fields {
		b.set(field, text)
	}
	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("` + button + `").click()`))
	b.until(`document.querySelector("#mixed [data-fill]") !== null`)
	b.accessible(name)
}
