package page

import (
	"fmt"
	"os"
	"testing"

	"github.com/chromedp/chromedp"
)

// axe-core 4.14.1, which make axe fetches.
const axeFile = "../../../../bin/axe-4.14.1.min.js"

// accessible looks at the whole page.
func (b *tab) accessible(name string) {
	b.t.Helper()
	b.accessibleIn(name, "document")
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

// Every state of the frame keeps the rules of axe-core (WCAG 2 A and AA and best
// practice) and needs no scrolling sideways.
func TestStatesAreAccessible(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.withAxe()
	b.accessibleIn("first", "document")
	b.typeColours(marsh)
	b.until(learned)
	b.accessibleIn("answer", "document")
	b.do(chromedp.Click(".chip"))
	b.until(`document.querySelector(".colour") !== null`)
	b.accessibleIn("chosen", "document")
	b.do(chromedp.Click("#colour-more"))
	b.accessibleIn("colour", "document")
	b.do(chromedp.Click("#colour-form .main"), chromedp.Evaluate[chromedp.Void](`document.getElementById("more-limits").click()`))
	b.until(`document.querySelectorAll("#avoid input").length > 10`)
	b.accessibleIn("more limits", "document")
	b.do(chromedp.Click("#limit-form .main"), chromedp.Evaluate[chromedp.Void](`document.getElementById("add").click()`))
	b.accessibleIn("typing", "document")
	b.quiet()
}

// Every place keeps the rules, too.
func TestPlacesAreAccessible(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.withAxe()
	b.open(fewTubes)
	b.until(learned)
	for _, place := range []string{"why", "scenes", "print", "values", "pack", "more", "help"} {
		b.place(place)
		b.accessibleIn(place, "document")
	}
	b.quiet()
}

// A scene of which something is out of reach, under limits that pull against
// each other, and what changed.
func TestMissesAreAccessible(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.withAxe()
	b.typeColours(marsh + "flare = lab(60 90 60)\n")
	b.until(learned)
	b.limit("maxTubes", "2")
	b.until(learned)
	if !reported[bool](b, `doc.body.textContent.includes("Limits that pull against each other")`) {
		t.Error("the limits do not pull against each other")
	}
	b.want(`document.querySelector(".changed #loosen") !== null`)
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
