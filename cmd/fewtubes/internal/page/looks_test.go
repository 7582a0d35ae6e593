package page

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"fewtubes/cmd/fewtubes/internal/scene"

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
	b.want(`[...document.querySelectorAll(".differ .sw")].every((n) => n.getBoundingClientRect().width > 20 && n.getBoundingClientRect().height > 20)`)
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

// dragged moves the pointer from the middle of an element by so much of the
// photograph's size.
func (b *tab) dragged(selector string, dx, dy float64) {
	b.t.Helper()
	const at = `(() => { const r = document.querySelector(%q).getBoundingClientRect(), v = document.getElementById("view").getBoundingClientRect(); return [r.left + r.width / 2, r.top + r.height / 2, v.width, v.height]; })()`
	p := value[[]float64](b, fmt.Sprintf(at, selector))
	to := []float64{p[0] + dx*p[2], p[1] + dy*p[3]}
	b.do(chromedp.MouseEvent(chromedp.MousePressed, p[0], p[1], chromedp.ButtonLeft, chromedp.ClickCount(1)),
		chromedp.MouseEvent(chromedp.MouseMoved, (p[0]+to[0])/2, (p[1]+to[1])/2, chromedp.ButtonLeft),
		chromedp.MouseEvent(chromedp.MouseMoved, to[0], to[1], chromedp.ButtonLeft),
		chromedp.MouseEvent(chromedp.MouseReleased, to[0], to[1], chromedp.ButtonLeft, chromedp.ClickCount(1)))
}

// Planes are laid, dragged by edges and corners, and moved by keys, each photograph
// its own and in its own view alone; a colour picked there lies in the plane it was
// picked in, and the scene's file says the same.
func TestPlanesAreDragged(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.marsh()
	planes := func(photo int) []string {
		t.Helper()
		return value[[]string](b, fmt.Sprintf(`import("/store.js").then((s) => s.scene().photos[%d].planes ?? [])`, photo))
	}
	b.want(`!document.querySelector(".planes")`)
	b.do(chromedp.Click(`[data-view=planes]`))
	b.do(chromedp.Click(".planes .lay button"))
	b.until(`document.querySelectorAll(".planes .line").length === 3`)
	if got := planes(0); !slices.Equal(got, []string{"sky=0:0.35", "distance=0.35:0.45", "middle=0.45:0.65", "foreground=0.65:1"}) {
		t.Errorf("%v", got)
	}
	b.dragged(`[data-handle="edge 0"]`, 0, 0.05)
	b.until(`document.getElementById("undo").title.includes("moved the planes of wide")`)
	near := func(v, want float64) bool { return math.Abs(v-want) < 0.01 }
	edge := func(shape string) (from, to float64) {
		t.Helper()
		s, err := scene.ParsePlaneShape(shape)
		if err != nil {
			t.Fatal(err)
		}
		return s.From, s.To
	}
	_, sky := edge(planes(0)[0])
	if distance, _ := edge(planes(0)[1]); !near(sky, 0.4) || distance != sky {
		t.Errorf("%v", planes(0))
	}
	b.dragged(`[data-handle="edge 0"]`, 0, 0.5) // no farther than the next edge
	b.until(`import("/store.js").then((s) => s.scene().photos[0].planes[0] === "sky=0:0.43")`)

	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelector('[data-handle="edge 2"]').focus()`), chromedp.KeyEvent(kb.ArrowDown), chromedp.KeyEvent(kb.ArrowDown))
	b.until(`import("/store.js").then((s) => s.scene().photos[0].planes[3] === "foreground=0.66:1")`)
	b.want(`document.activeElement.dataset.handle === "edge 2"`)

	b.do(chromedp.Click(`[data-handle="tag middle"]`), chromedp.Click(`.planes .tag [aria-expanded=true] + button`))
	b.until(`document.querySelectorAll(".planes .corner:not(.between)").length === 4`)
	b.dragged(`[data-handle="2 corner 0"]`, 0.2, 0.1)
	b.dragged(`[data-handle="2 between 2"]`, 0, -0.05) // a fifth corner
	b.until(`document.querySelectorAll(".planes .corner:not(.between)").length === 5`)
	shape, err := scene.ParsePlaneShape(planes(0)[2])
	if err != nil || shape.Plane != "middle" || len(shape.Corners) != 5 || !near(shape.Corners[0].X, 0.2) || !near(shape.Corners[0].Y, 0.55) {
		t.Errorf("%v %v", planes(0)[2], err)
	}
	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelector('[data-handle="2 corner 3"]').focus()`), chromedp.KeyEvent(kb.Delete))
	b.until(`document.querySelectorAll(".planes .corner:not(.between)").length === 4`)
	b.do(chromedp.Click("#undo"))
	b.until(`document.querySelectorAll(".planes .corner:not(.between)").length === 5`)

	// The other photograph has none, and no other view shows them.
	b.do(chromedp.Click(`#photos [data-photo=close]`))
	b.until(`document.querySelector(".planes .lay button")?.textContent === "Lay four bands"`)
	if got := planes(1); len(got) != 0 {
		t.Errorf("%v", got)
	}
	b.do(chromedp.Click(`#photos [data-photo=wide]`), chromedp.Click(`[data-view=seen]`))
	b.want(`!document.querySelector(".planes")`)

	// The place of a new colour is that of the Go side.
	for _, at := range [][2]float64{{0.5, 0.2}, {0.5, 0.44}, {0.3, 0.6}, {0.05, 0.5}, {0.5, 0.9}} {
		var shapes []scene.PlaneShape
		for _, text := range planes(0) {
			s, err := scene.ParsePlaneShape(text)
			if err != nil {
				t.Fatal(err)
			}
			shapes = append(shapes, s)
		}
		want := scene.PlaneAt(shapes, at[0], at[1])
		got := value[string](b, fmt.Sprintf(`Promise.all([import("/store.js"), import("/planes.js")]).then(([s, p]) => p.at(s.scene().photos[0], {x: %g, y: %g}) ?? "")`, at[0], at[1]))
		if got != want {
			t.Errorf("%v: %q on the page, %q", at, got, want)
		}
	}
	b.quiet()
}

// handy wants every button and link of a part of the page to be a target that a
// finger finds, with its words whole.
func (b *tab) handy(state, part string) {
	b.t.Helper()
	const small = `[...document.querySelectorAll(%q)].filter((n) => n.checkVisibility() && n.getBoundingClientRect().width > 0).flatMap((n) => {
		const r = n.getBoundingClientRect();
		const cut = n.scrollWidth > n.clientWidth + 1 && getComputedStyle(n).overflowX !== "visible" || n.scrollWidth > n.clientWidth + 8;
		const part = n.closest(".columns section");
		if (part && [...part.children].some((c) => Math.abs(c.getBoundingClientRect().width - part.getBoundingClientRect().width) > 1)) return ["parts of a column are not as wide as it"];
		return r.width < 43.5 || r.height < 43.5 || cut ? [(n.getAttribute("aria-label") ?? n.textContent) + " " + Math.round(r.width) + "x" + Math.round(r.height) + (cut ? " cut" : "")] : [];
	})`
	for _, bad := range value[[]string](b, fmt.Sprintf(small, part+" :is(a, button, summary, input)")) {
		b.t.Errorf("%s: %s", state, bad)
	}
}

// What this page shows of looks is read by everybody: axe-core finds nothing in it,
// light and dark, narrow and wide, and a finger finds its buttons.
func TestLooksAreAccessible(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.withAxe()
	b.marsh()
	sizes := [][2]int64{{1440, 900}, {1440, 765}, {1366, 640}, {1024, 768}, {768, 1024}, {390, 844}, {390, 664}}
	look := func(state, part string) {
		t.Helper()
		b.accessibleIn(state, fmt.Sprintf("%q", part))
		for _, size := range sizes {
			b.do(chromedp.EmulateViewport(size[0], size[1]))
			b.handy(fmt.Sprintf("%s at %dx%d", state, size[0], size[1]), part)
		}
		b.do(chromedp.EmulateViewport(1440, 900))
		b.eval(`new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(true))))`)
	}
	b.do(chromedp.Click(`[data-view=planes]`))
	b.do(chromedp.Click(".planes .lay button"))
	b.until(`document.querySelectorAll(".planes .line").length === 3`)
	b.do(chromedp.Click(`[data-handle="tag foreground"]`), chromedp.Click(`.planes .tag [aria-expanded=true] + button`))
	b.until(`document.querySelectorAll(".planes .corner:not(.between)").length === 4`)
	look("planes", "#view")
	b.do(chromedp.Click("#my-box"))
	b.until(`document.querySelectorAll(".shelves li").length > 80`)
	b.do(chromedp.Click(`[data-tile="own viridian"]`))
	b.until(`document.querySelectorAll("#my-box .sw").length === 1`)
	look("box", "#box")
	b.do(chromedp.Click(`#ways a[href="#beside"]`))
	b.until(`document.querySelectorAll(".columns section").length === 3 && document.querySelector("#beside [role=status]").textContent === ""`)
	look("beside", "#beside")
	b.do(chromedp.Click(`[data-of="picture as it stands"]`))
	look("large", "dialog.large")
	b.quiet()
}
