package page

import (
	"fmt"
	"os"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"fewtubes/gamut/bounded"
)

// tabTo moves the focus forward by the Tab key alone until it is on what a
// script asks of the focused element.
func (b *tab) tabTo(about string) {
	b.t.Helper()
	for range 400 {
		b.do(chromedp.KeyEvent(kb.Tab))
		if b.eval(`((e) => ` + about + `)(document.activeElement)`) {
			return
		}
	}
	b.t.Fatalf("no way by Tab to %s", about)
}

// The whole way by keyboard alone: colours typed, a photograph brought, a colour
// picked, moved and removed, another renamed, a limit stepped and one ticked, an act
// taken back, a place opened and left. From one main part to the next there are at
// most 25 stops.
func TestKeyboardAlone(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.tabTo(`e.id === "type"`)
	b.do(chromedp.KeyEvent(kb.Enter))
	b.until(`document.activeElement.id === "typed-text"`)
	b.do(chromedp.KeyEvent("mud = lab(38 4 9); shore = lab(62 0.5 -9)"))
	b.tabTo(`e.textContent === "Add colours"`)
	b.do(chromedp.KeyEvent(kb.Enter))
	b.until(targets + " === 2")
	b.tabTo(`e.className === "more"`) // opens the browser's own chooser
	b.do(chromedp.SetUploadFiles("#photo-file", []string{absolute(t, "../../../../testdata/salt-marsh/close.jpg")}))
	b.until(shows)
	b.tabTo(`e.id === "view"`)
	b.do(chromedp.KeyEvent(kb.ArrowRight, chromedp.KeyModifiers(chromedp.ModifierShift)), chromedp.KeyEvent(kb.ArrowDown))
	b.until(`!document.getElementById("lens").hidden`)
	radius := value[string](b, `document.querySelector(".circle").style.width`)
	b.do(chromedp.KeyEvent("+"))
	b.until(`document.querySelector(".circle").style.width !== "` + radius + `"`)
	b.do(chromedp.KeyEvent(kb.Enter))
	b.until(targets + " === 3")

	// The mark is nudged a pixel at a time, and taken away.
	b.tabTo(`e.classList.contains("mark")`)
	at := value[string](b, `document.activeElement.style.left`)
	b.do(chromedp.KeyEvent(kb.ArrowLeft, chromedp.KeyModifiers(chromedp.ModifierShift)))
	b.until(fmt.Sprintf(`document.querySelector(".mark").style.left !== %q`, at))
	b.until(`document.activeElement.classList.contains("mark")`)
	b.do(chromedp.KeyEvent(kb.Delete))
	b.until(targets + " === 2")
	b.want(`document.activeElement.id === "view"`)

	b.tabTo(`e.classList.contains("chip")`)
	b.do(chromedp.KeyEvent(kb.ArrowRight))
	b.until(`document.querySelector(".colour h3 input")?.value === "shore"`)
	b.until(learned)
	b.tabTo(`e.id === "colour-name"`)
	b.do(chromedp.Evaluate[chromedp.Void](`document.activeElement.select()`), chromedp.KeyEvent("far shore"), chromedp.KeyEvent(kb.Enter))
	b.until(`document.getElementById("undo").title === "Take back: renamed “shore”"`)
	b.want(`document.activeElement.id === "colour-name"`)
	b.want(learned) // nothing was worked out anew
	b.tabTo(`e.ariaLabel === "fewer: most tubes"`)
	b.do(chromedp.KeyEvent(" "))
	b.until(`document.querySelector("#most-tubes output").textContent !== "any"`)
	b.want(`document.activeElement.ariaLabel === "fewer: most tubes"`)
	b.tabTo(`e.dataset.avoid === "toxic"`)
	b.do(chromedp.KeyEvent(" "))
	b.until(`document.activeElement.getAttribute("aria-pressed") === "true"`)
	b.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("title").focus()`))
	b.tabTo(`e.id === "undo"`)
	b.do(chromedp.KeyEvent(kb.Enter))
	b.until(`document.querySelector("[data-avoid=toxic]").getAttribute("aria-pressed") === "false"`)
	b.tabTo(`e.hash === "#why"`)
	b.do(chromedp.KeyEvent(kb.Enter))
	b.until(`document.getElementById("why").hidden === false && document.activeElement.id === "why"`)
	b.do(chromedp.Evaluate[chromedp.Void](`history.back()`))
	b.until(`document.getElementById("why").hidden`)
	b.until(learned)

	// Stops from one main part to the next.
	b.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("title").focus()`))
	const most = 25
	stops, part := 0, "head"
	for range 200 {
		b.do(chromedp.KeyEvent(kb.Tab))
		stops++
		now := value[string](b, `document.activeElement.closest("#head, #picture, #rail, #answer, #limits")?.id ?? "end"`)
		if now == part {
			continue
		}
		t.Logf("%s: %d stops", part, stops)
		if stops > most {
			t.Errorf("%d stops in %s", stops, part)
		}
		if stops, part = 0, now; part == "end" {
			break
		}
	}
	b.quiet()
}

// The key g shows the picture in greys, as bright as its colours, and takes them
// away; a photograph with marks keeps the rules of axe-core.
func TestGreys(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.addPhotograph()
	b.do(chromedp.Focus("#view"))
	pixels := `(() => { const img = document.getElementById("seen"), c = document.createElement("canvas"); c.width = img.naturalWidth; c.height = img.naturalHeight;
		const g = c.getContext("2d"); g.drawImage(img, 0, 0); const d = g.getImageData(0, 0, c.width, c.height).data;
		let most = 0; for (let i = 0; i < d.length; i += 4) most = Math.max(most, Math.abs(d[i] - d[i + 1]), Math.abs(d[i + 1] - d[i + 2])); return most; })()`
	if off := value[int](b, pixels); off < 20 {
		t.Errorf("in colour the channels differ by %d only", off)
	}
	b.do(chromedp.KeyEvent("g"))
	b.until(`document.getElementById("seen").src.endsWith("?greys") && document.getElementById("seen").complete && document.getElementById("seen").naturalWidth > 0`)
	if off := value[int](b, pixels); off > 1 {
		t.Errorf("channels differ by %d", off)
	}
	b.want(`document.querySelector("[data-view=greys]").getAttribute("aria-pressed") === "true"`)
	b.withAxe()
	b.accessible("greys")
	b.do(chromedp.Focus("#view"), chromedp.KeyEvent("g"))
	b.until(`!document.getElementById("seen").src.endsWith("?greys")`)
	b.do(chromedp.Focus("#view"), chromedp.KeyEvent(kb.Enter))
	b.until(targets + " === 2")
	b.until(learned)
	b.accessible("photo")
	b.quiet()
}

// Two tabs on one program show two scenes, each at its own address.
func TestTwoScenes(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.typeColours("mud = lab(38 4 9)")
	b.until(learned)
	b.open("format = 1\ntitle = 'Other'\ntolerance = 5\n[[target]]\nname = 'sky'\ncolour = 'lab(73 -4 -17)'\n[[target]]\nname = 'shore'\ncolour = 'lab(62 0.5 -9)'\n")
	b.until(`document.title === "Other · fewtubes"`)
	address := value[string](b, `location.href`)
	first := value[string](b, `fetch("/scenes").then((r) => r.json()).then((d) => location.origin + "/s/" + d.scenes.find((s) => s.title !== "Other").id)`)
	second := b.another(address)
	b.goTo(first)
	b.until(learned)
	second.until(learned)
	b.want(targets + ` === 1`)
	second.want(targets + ` === 2`)
	if !reported[bool](second, `doc.querySelector(".asked").textContent.includes("tolerance ΔE00 5.00")`) || !reported[bool](b, `doc.querySelector(".asked").textContent.includes("tolerance ΔE00 3.00")`) {
		t.Error("one scene's tolerance is the other's")
	}
	b.quiet()
	second.quiet()
}

// Whatever stands behind the # or in the address, the page stands.
func TestWrongAddresses(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.typeColours("mud = lab(38 4 9)")
	b.until(learned)
	for _, address := range []string{"/#s=AAAA", "/#no-such-place", "/#<img src=x onerror=window.hit=1>", "/#%00", "/s/none", "/s/none#why", "/#answer"} {
		b.goTo(b.url + address)
		b.until(targets + ` === 1`)
		b.until(learned)
	}
	b.want(`window.hit === undefined`)
	b.quiet()
}

// Markup in names, titles, files and addresses stays text.
func TestMarkupIsInert(t *testing.T) {
	t.Parallel()
	b := browser(t)
	const evil = `<img src=x onerror=window.hit=1><script>window.hit=1</script>`
	b.open("format = 1\ntitle = '" + evil + "'\n\n[[photo]]\nname = '" + evil + "'\nfile = 'x\"><svg onload=window.hit=1>.jpg'\n\n" +
		"[[target]]\nname = '" + evil + "'\ncolour = 'lab(38 4 9)'\n\n[[target]]\nname = '\"><b>b'\ncolour = 'lab(62 90 60)'\n")
	b.until(learned)
	for _, place := range []string{"beside", "why", "mixing", "scenes", "print", "values", "pack", "box"} {
		b.place(place)
	}
	b.place("")
	b.eval(`import("/store.js").then((s) => { s.choose(s.scene().targets[0].name); return true; })`)
	b.until(`document.getElementById("colour-name")?.value.startsWith("<img") === true`)
	file := t.TempDir() + "/<img src=x onerror=window.hit=1>.toml"
	if err := os.WriteFile(file, []byte("format = '<script>window.hit=1</script>'\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	b.do(chromedp.SetUploadFiles("#open-file", []string{file}))
	b.until(`document.getElementById("notice").textContent.includes("format")`)
	b.want(`window.hit === undefined && document.querySelectorAll("main script, main [onerror], main [onload], svg svg").length === 0`)
	b.want(`document.getElementById("title").textContent.includes("<script>")`)
	b.quiet(refused)
}

// How long things take at the page, and what moves while it comes up. Times are
// reported, not asserted: the machine may be busy with anything. What moves is.
func TestTimes(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.marsh()
	b.until(learned)
	const watch = `window.moved = 0; new PerformanceObserver((list) => { for (const e of list.getEntries()) if (!e.hadRecentInput) window.moved += e.value; }).observe({type: "layout-shift", buffered: true});`
	b.do(chromedp.Reload(), chromedp.WaitReady("body[data-ready]"))
	b.do(chromedp.Evaluate[chromedp.Void](watch + "undefined"))
	b.until(learned + " && " + shows)
	t.Logf("drawn after %.0f ms", value[float64](b, `performance.getEntriesByName("first-contentful-paint")[0].startTime`))
	const still = 0.05
	if moved := value[float64](b, `window.moved`); moved > still {
		t.Errorf("layout shift %.3f", moved)
	} else {
		t.Logf("layout shift %.3f", moved)
	}
	b.do(chromedp.Evaluate[chromedp.Void](`(() => { window.changed = (avoid) => new Promise(async (done) => {
		const s = await import("/store.js"), start = performance.now(); let over = false;
		s.on("answer", () => { if (!over && s.answer()?.stage === "answer") { over = true; requestAnimationFrame(() => done(performance.now() - start)); } });
		document.querySelector("[data-avoid=" + avoid + "]").click(); }); })()`))
	changes := []string{"cadmium", "toxic", "fugitive", "cadmium", "fugitive", "toxic", "cadmium", "cadmium"}
	for _, avoid := range changes[:bounded.Cases(t, 2, len(changes))] {
		ms := value[float64](b, fmt.Sprintf(`changed(%q)`, avoid))
		t.Logf("%s: answered after %.0f ms", avoid, ms)
		b.until(learned)
	}
	b.do(chromedp.Evaluate[chromedp.Void](`window.picked = new Promise((done) => { const n = document.querySelectorAll(".chip").length;
		document.getElementById("view").addEventListener("pointerup", () => { const start = performance.now(); new MutationObserver((_, o) => { if (document.querySelectorAll(".chip").length > n) { o.disconnect(); done(performance.now() - start); } }).observe(document.getElementById("chips"), {childList: true}); }, {once: true, capture: true}); }); undefined`))
	b.do(chromedp.MouseClickXY(b.point(0.6, 0.6)))
	t.Logf("picked after %.0f ms", value[float64](b, `window.picked`))
	b.quiet()
}
