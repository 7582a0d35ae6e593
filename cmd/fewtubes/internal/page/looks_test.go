package page

import (
	"slices"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// marsh opens the demo from the first start, and waits for its answer.
func (b *tab) marsh() {
	b.t.Helper()
	b.do(chromedp.Click("#try-marsh"))
	b.until(`document.querySelectorAll(".chip").length === 24 && document.getElementById("seen")?.naturalWidth > 0`)
	b.until(`(document.getElementById("answer").dataset.answer ?? "") !== ""`)
}

// owned is what the program has in the box.
func (b *tab) owned() []string {
	b.t.Helper()
	return value[[]string](b, `fetch("/box").then((r) => r.json()).then((d) => d.owned)`)
}

// Ten tubes go into the box in at most twelve taps, the opening among them; what was
// put in is taken back; a tube found by a word is put in by keys; "must be in" and
// "never" exclude each other; and the box outlives a reload.
func TestTenTubesIntoTheBox(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.marsh()
	taps := 0
	tap := func(selector string) {
		t.Helper()
		taps++
		b.do(chromedp.Click(selector))
	}
	ten := []string{"titanium-white", "cadmium-lemon", "yellow-ochre", "cadmium-red-light", "quinacridone-magenta", "ultramarine-blue", "cobalt-blue", "viridian", "burnt-sienna", "raw-umber"}
	tap("#my-box")
	b.until(`document.querySelectorAll(".shelves li").length > 80`)
	for _, id := range ten {
		tap(`[data-tile="own ` + id + `"]`)
	}
	b.until(`document.querySelectorAll("#my-box .sw").length === 10`)
	const most = 12
	if taps > most || !slices.Equal(b.owned(), ten) {
		t.Errorf("%d taps: %v", taps, b.owned())
	}
	t.Logf("ten tubes: %d taps", taps)

	b.do(chromedp.Click("#box .told button")) // takes the last one back
	b.until(`document.querySelectorAll("#my-box .sw").length === 9`)
	if got := b.owned(); !slices.Equal(got, ten[:9]) {
		t.Errorf("%v", got)
	}
	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("#box .toggle").focus()`), chromedp.KeyEvent(kb.Enter)) // a ready box adds what is missing
	b.until(`document.querySelectorAll("#my-box .sw").length > 10`)
	b.do(chromedp.Click("#box .told button"))
	b.until(`document.querySelectorAll("#my-box .sw").length === 9`)

	// By keyboard alone, found by a word.
	b.do(chromedp.SendKeys("#box input", "prussian"))
	b.until(`document.querySelectorAll(".shelves li").length === 1`)
	b.tabTo(`e.dataset.tile === "own prussian-blue"`)
	b.do(chromedp.KeyEvent(kb.Enter))
	b.until(`document.querySelectorAll("#my-box .sw").length === 10 && document.activeElement.dataset.tile === "own prussian-blue" && document.activeElement.getAttribute("aria-pressed") === "true"`)
	b.do(chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.Enter))
	b.until(`document.querySelector('[data-tile="keep prussian-blue"]').getAttribute("aria-pressed") === "true"`)
	b.until(`document.getElementById("answer").dataset.answer.includes("prussian-blue")`)
	b.do(chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.Enter))
	b.until(`document.querySelector('[data-tile="never prussian-blue"]').getAttribute("aria-pressed") === "true" && document.querySelector('[data-tile="keep prussian-blue"]').getAttribute("aria-pressed") === "false"`)
	b.until(`!document.getElementById("answer").dataset.answer.includes("prussian-blue")`)

	// "only my box" follows the box.
	b.do(chromedp.Click("#only-box"))
	b.until(`document.getElementById("only-box").getAttribute("aria-pressed") === "true"`)
	b.do(chromedp.Click(`[data-tile="own prussian-blue"]`))
	b.until(`document.querySelectorAll("#my-box .sw").length === 9`)
	b.until(`import("/store.js").then((s) => s.scene().limits.only.length === 9)`)

	b.do(chromedp.Reload())
	b.until(`document.body?.dataset.ready === "" && document.querySelectorAll("#my-box .sw").length === 9`)
	b.quiet()
}

// Palettes stand side by side in one tap, in another a further one; each has its own
// painted picture, which is swapped in place; one that is taken is the answer.
func TestBesideOnThePage(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.marsh()
	b.eval(`fetch("/box", {method: "POST", headers: {"Content-Type": "application/json"}, body: JSON.stringify({put: ["titanium-white", "cadmium-lemon", "yellow-ochre", "cadmium-red-light", "quinacridone-magenta", "ultramarine-blue", "viridian", "burnt-sienna"]})}).then((r) => r.ok)`)
	b.do(chromedp.Reload())
	b.until(`document.body?.dataset.ready === "" && (document.getElementById("answer").dataset.answer ?? "").includes("cadmium")`)
	const whole = `document.querySelector("#beside [role=status]").textContent === "" && !document.querySelector(".columns .waits")`
	b.do(chromedp.Click(`#ways a[href="#beside"]`))
	b.until(`document.querySelectorAll(".columns section").length === 3`)
	b.until(whole)
	words := value[[]string](b, `[...document.querySelectorAll(".columns h2")].map((h) => h.textContent)`)
	if !slices.Equal(words, []string{"As it stands", "No cadmium", "Only my box"}) {
		t.Errorf("%v", words)
	}
	b.want(`document.querySelectorAll(".columns .differ")[0].children.length > 0 && [...document.querySelectorAll(".columns dd b")].every((n) => n.textContent !== "…")`)
	b.until(`[...document.querySelectorAll(".columns img")].every((i) => i.naturalWidth > 0)`)
	b.want(`new Set([...document.querySelectorAll(".columns img")].map((i) => i.src)).size === 3`)
	b.want(`[...document.querySelectorAll(".columns section")].slice(2).every((s) => s.textContent.includes("nothing"))`)

	b.do(chromedp.Click(`[data-kind="one tube fewer"]`))
	b.until(`document.querySelectorAll(".columns section").length === 4`)
	b.until(whole)

	b.do(chromedp.Click(`[data-of="picture as it stands"]`))
	b.want(`document.querySelector("dialog.large [aria-pressed=true]").textContent === "as it stands"`)
	b.do(chromedp.Click(".large .swap"))
	b.want(`document.querySelector("dialog.large [aria-pressed=true]").textContent === "no cadmium" && document.querySelectorAll(".large img.shown").length === 1`)
	b.do(chromedp.KeyEvent(kb.Escape))
	b.until(`!document.querySelector("dialog.large")`)
	b.want(`document.activeElement.dataset.of === "picture as it stands"`)

	b.do(chromedp.Click(`[data-of="take no cadmium"]`))
	b.until(`document.querySelector('[data-avoid="cadmium"]').getAttribute("aria-pressed") === "true"`)
	b.until(`!document.getElementById("answer").dataset.answer.includes("cadmium")`)
	b.do(chromedp.Click("#undo"))
	b.until(`document.querySelector('[data-avoid="cadmium"]').getAttribute("aria-pressed") === "false"`)
	b.do(chromedp.Click("#beside .button.main"))
	b.until(`location.hash === "" && document.getElementById("beside").hidden`)
	b.quiet()
}
