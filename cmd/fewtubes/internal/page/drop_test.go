package page

import (
	"slices"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// A photograph is dragged in from outside and let go; its colours are suggested by
// themselves; more are suggested on request, and what is there stays; a scene file is
// dropped as well.
func TestDropAndSuggest(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.drop("#offers", absolute(t, "../../../../testdata/salt-marsh/close.jpg"))
	b.until(shows)
	b.want(`!document.body.classList.contains("over")`)
	b.until(targets + " === 14")
	b.want(`document.querySelectorAll(".mark").length === 14`)
	b.do(chromedp.Focus("#view"), chromedp.KeyEvent("\r"))
	b.until(targets + " === 15")
	const names = `[...document.querySelectorAll(".chip")].map((c) => c.dataset.chip)`
	before := value[[]string](b, names)
	b.do(chromedp.Click("#add"), chromedp.Click("#suggest"))
	b.until(targets + " === 29")
	after := value[[]string](b, names)
	for _, name := range before {
		if !slices.Contains(after, name) {
			t.Errorf("%s is gone", name)
		}
	}
	b.do(chromedp.Click("#undo"))
	b.until(targets + " === 15")
	b.do(chromedp.Click("#add"))
	b.set("#suggest-n", "4")
	b.do(chromedp.Click("#suggest-fit"), chromedp.Click("#suggest"))
	b.until(targets + " === 19")
	b.until(answered)
	b.do(chromedp.Click("#add"), chromedp.Click("#remove-photo"))
	b.until(`document.querySelectorAll("[data-photo], .mark").length === 0`)
	b.want(targets + " === 19")
	b.do(chromedp.Click("#undo"))
	b.until(shows + ` && document.querySelectorAll(".mark").length === 19`)

	b.drop("main", b.keep(fewTubes))
	b.until(`document.title === "Ebb · fewtubes"`)
	b.until(answered)
	b.quiet(refused)
}

// drop lets a file go over an element, as from a window of the system.
func (b *tab) drop(selector, file string) {
	b.t.Helper()
	type point struct{ X, Y float64 }
	at := value[point](b, `(() => { const r = document.querySelector("`+selector+`").getBoundingClientRect(); return {X: r.left + r.width / 2, Y: r.top + Math.min(r.height, 200) / 2}; })()`)
	const copying = 1
	data := &input.DragData{Items: []*input.DragDataItem{}, Files: []string{file}, DragOperationsMask: copying}
	for _, step := range []input.DispatchDragEventType{"dragEnter", "dragOver", "drop"} {
		if step == "drop" {
			b.until(`document.body.classList.contains("over")`)
		}
		if _, err := chromedp.Call(b.ctx, input.DispatchDragEvent, input.DispatchDragEventParams{Type: step, X: at.X, Y: at.Y, Data: data}); err != nil {
			b.t.Fatal(err)
		}
	}
}

// A browser tells the name of a file, a scene its path: the photograph a scene
// asks for is known by its last part, whichever of the two comes first.
func TestPhotographOfAScene(t *testing.T) {
	t.Parallel()
	const scene = "format = 1\n\n[[photo]]\nname = \"near\"\nfile = \"salt-marsh/close.jpg\"\n\n[[target]]\nname = \"mud\"\ncolour = \"lab(38 4 9)\"\nat = {photo = \"near\", x = 0.5, y = 0.25, radius = 0.02}\n"
	b := browser(t)
	only := `[...document.querySelectorAll("[data-photo]")].map((n) => n.dataset.photo).join() === "near" && document.querySelectorAll(".mark").length === 1`
	b.open(scene)
	b.until(`document.querySelectorAll("[data-photo]").length === 1`)
	b.do(chromedp.SetUploadFiles("#photo-file", []string{absolute(t, "../../../../testdata/salt-marsh/close.jpg")}))
	b.until(only + " && " + shows)
	b.do(chromedp.Reload(), chromedp.WaitReady("body[data-ready]"))
	b.until(only + " && " + shows)
	b.quiet()
}
