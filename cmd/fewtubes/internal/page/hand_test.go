package page

import (
	"fmt"
	"os"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
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

// The whole way by keyboard alone: a photograph's mark moved, colours typed, a
// limit ticked, a tube ruled out, a palette held, a colour mixed, the scene saved.
func TestKeyboardAlone(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.tabTo(`e.className === "skip"`)
	b.do(chromedp.KeyEvent(kb.Enter))
	b.until(`location.hash === "#answer"`)
	b.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("title").focus()`))
	b.do(chromedp.KeyEvent("Ebb tide"), chromedp.KeyEvent(kb.Tab))
	b.tabTo(`e.id === "add"`) // opens the browser's own chooser
	b.do(chromedp.SetUploadFiles("#photo-file", []string{absolute(t, "../../../../testdata/salt-marsh/close.jpg")}))
	b.until(`document.querySelector(".shot img")?.naturalWidth > 0`)
	b.tabTo(`e.classList.contains("view")`)
	b.do(chromedp.KeyEvent(kb.ArrowRight, chromedp.KeyModifiers(chromedp.ModifierShift)), chromedp.KeyEvent(kb.ArrowDown))
	b.want(`!document.getElementById("lens").hidden`)
	b.do(chromedp.KeyEvent(kb.Enter))
	b.until(targets + " === 1")

	// The mark is nudged a pixel at a time, and taken away.
	b.tabTo(`e.classList.contains("pick")`)
	at := value[string](b, `document.activeElement.style.left`)
	b.do(chromedp.KeyEvent(kb.ArrowLeft, chromedp.KeyModifiers(chromedp.ModifierShift)))
	b.until(fmt.Sprintf(`document.querySelector(".pick").style.left !== %q`, at))
	b.until(`document.activeElement.classList.contains("pick")`)
	b.do(chromedp.KeyEvent(kb.Delete))
	b.until(targets + " === 0")

	b.tabTo(`e.id === "typed-text"`)
	b.do(chromedp.KeyEvent("mud = lab(38 4 9); shore = lab(62 0.5 -9)"))
	b.tabTo(`e.textContent === "Add colours"`)
	b.do(chromedp.KeyEvent(kb.Enter))
	b.until(targets + " === 2")
	b.tabTo(`e.dataset.key === "area"`)
	b.do(chromedp.KeyEvent("2"), chromedp.KeyEvent(kb.Tab))
	b.tabTo(`e.name === "avoid" && e.value === "cobalt"`)
	b.do(chromedp.KeyEvent(" "))
	b.tabTo(`e.name === "text"`)
	b.do(chromedp.KeyEvent("titanium white"))
	b.tabTo(`e.dataset.tube === "titanium-white"`)
	b.do(chromedp.KeyEvent("n")) // never
	b.until(`document.querySelector('[data-tube="titanium-white"]').value === "never"`)
	b.until(learned)
	b.want(`!document.getElementById("result").dataset.answer.split(",").includes("titanium-white")`)

	b.tabTo(`e.id === "hold"`)
	b.do(chromedp.KeyEvent(kb.Enter))
	b.until(`document.querySelectorAll("#held li").length === 1`)
	b.tabTo(`e.textContent === "Hold"`)
	b.do(chromedp.KeyEvent(kb.Enter))
	b.until(`document.querySelectorAll("#held li").length === 2`)
	b.tabTo(`e.id === "compare"`)
	b.do(chromedp.KeyEvent(kb.Enter))
	b.until(`document.querySelector("#compared table") !== null`)
	b.tabTo(`e.id === "mix-colour"`)
	b.do(chromedp.KeyEvent("lab(45 3 8)"), chromedp.KeyEvent(kb.Enter))
	b.until(`document.querySelector("#mixed [data-fill]") !== null`)
	b.tabTo(`e.id === "save"`)
	b.do(chromedp.KeyEvent(kb.Enter))
	b.until(`document.getElementById("notice").textContent === "Saved as ebb-tide.toml."`)
	b.quiet()
}

// The key g puts every photograph in greys beside it, as bright as its colours,
// and takes it away; a photograph with picks keeps the rules of axe-core.
func TestGreys(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.addPhotograph()
	b.do(chromedp.Focus(".shot .view"), chromedp.KeyEvent("g"))
	b.until(`document.querySelector(".shot .greys")?.naturalWidth > 0`)
	pixels := func(of string) string {
		return `(() => { const img = document.querySelector("` + of + `"), c = document.createElement("canvas"); c.width = img.naturalWidth; c.height = img.naturalHeight;
		const g = c.getContext("2d"); g.drawImage(img, 0, 0); const d = g.getImageData(0, 0, c.width, c.height).data;
		let most = 0; for (let i = 0; i < d.length; i += 4) most = Math.max(most, Math.abs(d[i] - d[i + 1]), Math.abs(d[i + 1] - d[i + 2])); return most; })()`
	}
	if off := value[int](b, pixels(".shot .greys")); off > 1 {
		t.Errorf("channels differ by %d", off)
	}
	if off := value[int](b, pixels(".shot .view img")); off < 20 {
		t.Errorf("in colour the channels differ by %d only", off)
	}
	b.want(`document.querySelector(".shot [name=greys]").checked`)
	b.withAxe()
	b.accessible("greys")
	b.do(chromedp.Focus(".shot .view"), chromedp.KeyEvent("g"))
	b.until(`!document.querySelector(".shot .greys") && !document.querySelector(".shot [name=greys]").checked`)
	b.do(chromedp.Focus(".shot .view"), chromedp.KeyEvent(kb.Enter))
	b.until(targets + " === 1")
	b.until(learned)
	b.accessible("photo")
	b.quiet()
}

// Two tabs on one server hold two scenes.
func TestTwoTabs(t *testing.T) {
	t.Parallel()
	b := browser(t)
	second := b.another(b.url)
	b.typeColours("mud = lab(38 4 9)")
	second.typeColours("sky = lab(73 -4 -17); shore = lab(62 0.5 -9)")
	second.set("[name=tolerance]", "5")
	b.until(learned)
	second.until(learned)
	b.want(targets + ` === 1 && document.querySelector("#result .asked").textContent.includes("tolerance ΔE00 3.00")`)
	second.want(targets + ` === 2 && document.querySelector("#result .asked").textContent.includes("tolerance ΔE00 5.00")`)
	b.do(chromedp.Reload(), chromedp.WaitVisible("#cards li"))
	b.until(targets + ` === 1 && document.querySelector("[data-key=name]").value === "mud"`)
	b.quiet()
	second.quiet()
}

// Markup in names, titles, files and addresses stays text.
func TestMarkupIsInert(t *testing.T) {
	t.Parallel()
	b := browser(t)
	const evil = `<img src=x onerror=window.hit=1><script>window.hit=1</script>`
	b.open("format = 1\ntitle = '" + evil + "'\n\n[[photo]]\nname = '" + evil + "'\nfile = 'x\"><svg onload=window.hit=1>.jpg'\n\n" +
		"[[target]]\nname = '" + evil + "'\ncolour = 'lab(38 4 9)'\n\n[[target]]\nname = '\"><b>b'\ncolour = 'lab(62 90 60)'\n")
	b.until(learned)
	b.do(chromedp.Click("#hold"))
	b.until(`document.querySelectorAll("#held li").length === 1`)
	b.set("#held input", "x<b>y")
	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelectorAll("#result .acts button")[1]?.click()`))
	b.until(`document.querySelectorAll("#held li").length === 2`)
	b.do(chromedp.Click("#compare"))
	b.until(`document.querySelector("#compared table") !== null`)
	b.set("#mix-colour", "lab(45 3 8)")
	b.set("#mix-palette", "<script>window.hit=1</script>")
	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("#mix-form button").click()`))
	b.until(`document.querySelector("#mix-form .wrong")?.textContent.includes("script") === true`)
	file := t.TempDir() + "/<img src=x onerror=window.hit=1>.toml"
	if err := os.WriteFile(file, []byte("format = '<script>window.hit=1</script>'\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	b.do(chromedp.SetUploadFiles("#open-file", []string{file}))
	b.until(`document.getElementById("notice").textContent.includes("format")`)
	b.want(`window.hit === undefined && document.querySelectorAll("main img, main script, main b b, svg svg").length === 0`)
	b.want(`document.getElementById("result").textContent.includes("<script>")`)
	b.quiet(refused)
}

// How long things take at the page. Times are reported, not asserted: the
// machine may be busy with anything.
func TestTimes(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.do(chromedp.Reload(), chromedp.WaitVisible("#cards li"))
	t.Logf("drawn after %.0f ms", value[float64](b, `performance.getEntriesByName("first-contentful-paint")[0].startTime`))
	b.open(fewTubes)
	b.until(learned)
	b.do(chromedp.Evaluate[chromedp.Void](`(() => { window.changed = (name, value) => new Promise((done) => {
		const field = document.querySelector("[name=" + name + "]"), box = document.getElementById("result"), start = performance.now();
		new MutationObserver((_, o) => { o.disconnect(); done(performance.now() - start); }).observe(box, {childList: true});
		field.value = value; field.dispatchEvent(new Event("change", {bubbles: true})); }); })()`))
	for _, limit := range [][2]string{{"maxTubes", "7"}, {"budget", "60"}, {"budget", "55"}, {"prefer", "price"}, {"maxTubes", ""}, {"budget", ""}} {
		ms := value[float64](b, fmt.Sprintf(`changed(%q, %q)`, limit[0], limit[1]))
		t.Logf("%s %q: answered after %.0f ms", limit[0], limit[1], ms)
		time.Sleep(pause)
	}
	b.quiet()
}
