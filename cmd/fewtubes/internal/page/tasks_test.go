package page

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// counted is a tab whose taps are counted; one system dialogue is one.
type counted struct {
	*tab
	taps int
}

// tap clicks the first of some elements that can be seen.
func (c *counted) tap(selector string) {
	c.t.Helper()
	c.taps++
	type point struct{ X, Y float64 }
	at := value[point](c.tab, fmt.Sprintf(`(async () => {
		for (let n = 0; n < 600; n++) {
			const e = [...document.querySelectorAll(%q)].find((e) => e.checkVisibility({visibilityProperty: true}) && !e.disabled);
			if (e) {
				if (e.getBoundingClientRect().bottom > innerHeight || e.getBoundingClientRect().right > innerWidth) e.scrollIntoView({block: "center"});
				const r = e.getBoundingClientRect();
				return {X: r.left + r.width / 2, Y: r.top + r.height / 2};
			}
			await new Promise((done) => setTimeout(done, 50));
		}
		return {X: -1, Y: -1};
	})()`, selector))
	if at.X < 0 {
		c.shot("cannot-be-tapped")
		c.t.Fatalf("%s cannot be tapped", selector)
	}
	c.do(chromedp.MouseClickXY(at.X, at.Y))
}

// Ten tasks of a painter, with how many taps, drags and entries each takes at three
// sizes; at most as many as are set beside it. Each begins with the answer shown and
// nothing chosen.
func TestTenTasks(t *testing.T) {
	t.Parallel()
	sizes := [][2]int64{{1440, 900}, {1024, 768}, {390, 844}}
	for n, size := range sizes {
		t.Run(fmt.Sprint(size[0]), func(t *testing.T) {
			t.Parallel()
			b := &counted{tab: browser(t)}
			b.do(chromedp.EmulateViewport(size[0], size[1]))
			done := func(task string, most ...int) {
				t.Helper()
				allowed := most[min(n, len(most)-1)]
				t.Logf("%-48s %d of %d", task, b.taps, allowed)
				if b.taps > allowed {
					t.Errorf("%s took %d, not %d", task, b.taps, allowed)
				}
				b.taps = 0
			}
			home := func() {
				t.Helper()
				b.eval(`import("/store.js").then((s) => { location.hash = ""; s.choose(""); document.querySelector("[data-part=scene]").click(); return true; })`)
				b.until(`!document.body.dataset.place && document.getElementById("places").querySelectorAll(".place:not([hidden])").length === 0`)
				b.taps = 0
			}
			narrow := n > 0

			b.tap("#try-marsh")
			b.until(answered + " && " + shows)
			done("1 from nothing to the demo's answer", 1)
			b.until(answered)

			b.taps = 0
			if narrow {
				b.tap("[data-part=limits]")
			}
			b.tap("[data-avoid=cadmium]")
			b.until(answered)
			b.taps = 0
			if narrow {
				b.want(`document.querySelector("#bar .said").textContent.length > 10`)
			} else {
				b.want(`document.querySelector(".changed dl, .hardest") !== null`)
			}
			done("5 what changed after a limit", 0)
			b.tap("#undo")
			b.until(answered)
			home()

			b.tap(".chip")
			b.until(`document.querySelectorAll(".touching .sw").length === 2`)
			done("6 mix a colour and see it against the target", 1)
			b.tap("#what-i-got")
			b.tap("#mixing .faults button")
			b.until(`document.querySelector("#mixing").textContent.includes("half")`)
			done("7 what I got, in words, to the touch to add", 2)
			home()

			if n < 2 {
				b.tap("[data-view=painted]")
			} else {
				b.taps += 2 // the menu, and its line
				b.set("#views-menu", "painted")
			}
			b.until(`!document.getElementById("over").hidden && document.getElementById("over").naturalWidth > 0`)
			done("8 the repainted picture", 1, 1, 2)
			home()

			// The box is filled beforehand.
			b.eval(`fetch("/box", {method: "POST", headers: {"Content-Type": "application/json"}, body: JSON.stringify({put: ["titanium-white", "cadmium-lemon", "quinacridone-magenta", "phthalo-blue-red-shade", "burnt-sienna", "yellow-ochre"], take: []})}).then((r) => r.ok)`)
			b.do(chromedp.Reload(), chromedp.WaitReady("body[data-ready]"))
			b.until(answered + ` && document.querySelectorAll("#my-box .sw").length === 6`)
			b.taps = 0
			if narrow {
				b.tap("[data-part=limits]")
			}
			b.tap("#only-box")
			b.until(answered)
			b.want(`document.getElementById("only-box").getAttribute("aria-pressed") === "true"`)
			done("3 can my box do it", 1, 2, 2)
			b.tap("#undo")
			b.until(answered)
			home()

			if narrow {
				b.tap("#parts [href='#more']")
			}
			b.tap("#ways [href='#beside'], #more [href='#beside']")
			b.until(`document.getElementById("beside").textContent.includes("of 24")`)
			done("4 another palette beside", 1, 2, 2)
			home()

			if n == 2 {
				b.tap("#parts [href='#more']")
			}
			b.tap("#ways [href='#print'], #more [href='#print']")
			b.tap("#print button:not(.choice, .toggle)") // the lid card
			b.until(`!document.getElementById("notice").textContent.includes("wrong")`)
			done("9 the lid card", 3)
			home()

			b.do(chromedp.Navigate(b.url), chromedp.WaitReady("body[data-ready]"))
			b.until(answered + " && " + targets + " === 24 && " + shows)
			done("10 start again tomorrow", 0)

			fresh := &counted{tab: b.another(newServer(t).URL)}
			fresh.do(chromedp.EmulateViewport(size[0], size[1]))
			fresh.taps = 2 // "Bring photographs", and the system's dialogue
			fresh.do(chromedp.SetUploadFiles("#photo-file", []string{absolute(t, "../../../../testdata/salt-marsh/wide.jpg"), absolute(t, "../../../../testdata/salt-marsh/close.jpg"), absolute(t, "../photo/testdata/srgb.png")}))
			fresh.until(targets + " >= 10 && document.querySelectorAll('[data-photo]').length === 3")
			fresh.until(answered)
			b.taps = fresh.taps
			done("2 three photographs to a palette, chosen", 2)
		})
	}
}

// By mouse: the lens shows before the click what the click then picks; the wheel
// scales what is averaged; an area is dragged out; a mark is dragged and its colour
// follows; the border of half and half is dragged.
func TestByMouse(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.marsh()
	b.until(learned)
	at := func(x, y float64, kind input.DispatchMouseEventType) {
		t.Helper()
		px, py := b.point(x, y)
		b.do(chromedp.MouseEvent(kind, px, py, chromedp.ButtonType(input.MouseButtonLeft)))
	}
	drag := func(x0, y0, x1, y1 float64) {
		t.Helper()
		at(x0, y0, input.DispatchMouseEventTypeMousePressed)
		for i := 1; i <= 4; i++ {
			f := float64(i) / 4
			at(x0+f*(x1-x0), y0+f*(y1-y0), input.DispatchMouseEventTypeMouseMoved)
		}
		at(x1, y1, input.DispatchMouseEventTypeMouseReleased)
	}
	b.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, 700, 20))
	px, py := b.point(0.15, 0.75)
	b.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, px, py))
	b.until(`!document.getElementById("lens").hidden && document.getElementById("lens").dataset.hex !== undefined`)
	before := value[float64](b, `parseFloat(document.querySelector(".circle").style.width)`)
	b.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("view").dispatchEvent(new WheelEvent("wheel", {deltaY: -100, bubbles: true, cancelable: true}))`))
	b.until(fmt.Sprintf(`parseFloat(document.querySelector(".circle").style.width) > %f`, before))
	b.eval(`new Promise((done) => setTimeout(() => done(true), 300))`)
	seen := value[string](b, `document.getElementById("lens").dataset.hex`)
	b.do(chromedp.MouseClickXY(px, py))
	b.until(targets + " === 25")
	const last = `(async () => (await import("/store.js")).scene().targets.at(-1))()`
	type target struct {
		Name, Hex string
		At        struct{ X, Y, Radius float64 }
	}
	if got := value[target](b, last); got.Hex != seen {
		t.Errorf("the lens showed %s, picked was %s", seen, got.Hex)
	}
	b.want(`document.querySelector(".colour") !== null`)

	drag(0.8, 0.9, 0.85, 0.9)
	b.until(targets + " === 26")
	if got := value[target](b, last); math.Abs(got.At.X-0.8) > 0.005 || math.Abs(got.At.Radius-0.05) > 0.005 {
		t.Errorf("the area is %+v", got.At)
	}
	was := value[target](b, last)
	drag(0.8, 0.9, 0.3, 0.1)
	b.until(`(async () => (await import("/store.js")).scene().targets.at(-1).at.x < 0.4)()`)
	if got := value[target](b, last); got.Hex == was.Hex || got.Name != was.Name || got.At.Radius != was.At.Radius {
		t.Errorf("%+v was moved to %+v", was, got)
	}
	b.until(`document.getElementById("undo").title.startsWith("Take back: moved")`)

	b.do(chromedp.Click("[data-view=half]"))
	b.until(`!document.getElementById("edge").hidden`)
	drag(0.5, 0.5, 0.3, 0.5)
	b.until(`Math.abs(Number(document.getElementById("edge").getAttribute("aria-valuenow")) - 30) <= 1`)
	b.want(targets + " === 26")
	b.quiet()
}

// By touch: a finger slides and lifts to pick, the lens in the corner away from it;
// it rests and then drags for an area; two scale what is averaged; nothing is left
// over the page.
func TestByTouch(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.do(chromedp.EmulateViewport(390, 844, chromedp.EmulateTouch))
	b.marsh()
	b.until(learned)
	touch := func(kind input.DispatchTouchEventType, points ...[2]float64) {
		t.Helper()
		params := input.DispatchTouchEventParams{Type: kind, TouchPoints: []*input.TouchPoint{}}
		for i, p := range points {
			x, y := b.point(p[0], p[1])
			id := float64(i)
			params.TouchPoints = append(params.TouchPoints, &input.TouchPoint{X: x, Y: y, ID: &id})
		}
		if _, err := chromedp.Call(b.ctx, input.DispatchTouchEvent, params); err != nil {
			t.Fatal(err)
		}
	}
	const last = `(async () => (await import("/store.js")).scene().targets.at(-1).at)()`
	type spot struct{ X, Y, Radius float64 }
	touch("touchStart", [2]float64{0.2, 0.8})
	touch("touchMove", [2]float64{0.25, 0.8})
	touch("touchMove", [2]float64{0.3, 0.85})
	b.until(`!document.getElementById("lens").hidden`)
	b.want(`document.getElementById("lens").getBoundingClientRect().left > innerWidth / 2 - 30`)
	touch("touchEnd")
	b.until(targets + " === 25")
	if got := value[spot](b, last); math.Abs(got.X-0.3) > 0.01 || math.Abs(got.Y-0.85) > 0.01 {
		t.Errorf("picked at %+v", got)
	}
	b.until(`document.getElementById("lens").hidden`)

	touch("touchStart", [2]float64{0.12, 0.95})
	time.Sleep(700 * time.Millisecond)
	touch("touchMove", [2]float64{0.17, 0.95})
	touch("touchMove", [2]float64{0.22, 0.95})
	touch("touchEnd")
	b.until(targets + " === 26")
	if got := value[spot](b, last); math.Abs(got.X-0.12) > 0.01 || math.Abs(got.Radius-0.1) > 0.02 {
		t.Errorf("the area is %+v", got)
	}

	before := value[float64](b, `import("/lens.js").then((l) => l.averaged())`)
	touch("touchStart", [2]float64{0.4, 0.8}, [2]float64{0.5, 0.8})
	touch("touchMove", [2]float64{0.35, 0.8}, [2]float64{0.55, 0.8})
	touch("touchEnd")
	if now := value[float64](b, `import("/lens.js").then((l) => l.averaged())`); now < 1.5*before {
		t.Errorf("two fingers scaled %g to %g", before, now)
	}
	b.want(targets + " === 26")
	b.until(`document.getElementById("lens").hidden`)
	b.quiet()
}

// A limit changed keeps the answer where it is: it is marked as old, then what is
// being done is said, and nothing moves.
func TestWorkingIsShown(t *testing.T) {
	t.Parallel()
	stockServer := newServer(t)
	b := browser(t).another(stockServer.URL)
	b.marsh()
	b.until(learned)
	boxes := `["#answer", ".palette", "dl.figures", "#rail", "#limits", "#view"].map((s) => { const r = document.querySelector(s).getBoundingClientRect(); return [r.left, r.top, r.width].map(Math.round).join(); })`
	before := value[[]string](b, boxes)
	// Answers wait behind a held fetch, so that the state can be looked at.
	b.do(chromedp.Evaluate[chromedp.Void](`window.real = fetch; window.fetch = (url, o) => String(url).startsWith("/answer") ? new Promise((ok, no) => { window.go = () => ok(real(url, o)); o.signal.addEventListener("abort", () => no(new DOMException("", "AbortError"))); }) : real(url, o); undefined`))
	b.do(chromedp.Click("[data-avoid=toxic]"))
	b.until(`document.body.dataset.working === "old" || document.body.dataset.working === "said"`)
	b.until(`document.body.dataset.working === "said" && document.querySelector(".headline").textContent === "Working it out"`)
	b.want(`Number(getComputedStyle(document.querySelector(".palette .sw")).opacity) === 0.3`)
	b.shot("working-1440")
	for i, box := range value[[]string](b, boxes) {
		if box != before[i] {
			t.Errorf("moved from %s to %s", before[i], box)
		}
	}
	b.do(chromedp.Evaluate[chromedp.Void](`go(); window.fetch = real; undefined`))
	b.until(learned)
	b.want(`!("working" in document.body.dataset)`)
	b.quiet()
}
