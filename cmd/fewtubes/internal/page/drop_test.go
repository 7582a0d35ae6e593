package page

import (
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// A photograph is dragged in from outside and let go; its colours are suggested,
// those picked by hand stay when they are suggested anew; a scene file is
// dropped as well.
func TestDropAndSuggest(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.drop("#drop", absolute(t, "../../../../testdata/salt-marsh/close.jpg"))
	b.until(`document.querySelector(".shot img")?.naturalWidth > 0`)
	b.want(`!document.getElementById("drop").classList.contains("over")`)
	b.do(chromedp.Focus(".shot .view"), chromedp.KeyEvent("\r"))
	b.until(targets + " === 1")
	picked := value[string](b, `document.querySelector("[data-key=name]").value`)

	b.set("#suggest-n", "6")
	b.set("#suggest-planes", "sky=0.5")
	b.do(chromedp.Click("#suggest button"))
	b.until(`document.querySelector("#suggest .wrong") !== null`)
	b.want(targets + " === 1")
	b.set("#suggest-planes", "distance=0:0.5, foreground=0.5:1")
	b.do(chromedp.Click("#suggest button"))
	b.until(targets + " === 7")
	b.until(`document.querySelector("#suggest .wrong") === null`)
	b.want(`document.querySelectorAll(".shot .pick").length === 7`)
	b.want(`[...document.querySelectorAll("#targets select")].slice(1).every((s) => s.value === "distance" || s.value === "foreground")`)

	b.set("#suggest-n", "4")
	b.do(chromedp.Click("#suggest button"))
	b.until(targets + " === 5")
	b.want(`document.querySelector("[data-key=name]").value === "` + picked + `"`)
	b.until(answered)

	b.drop("main", b.keep(fewTubes))
	b.until(`document.getElementById("title").value === "Ebb"`)
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
			b.until(`document.getElementById("drop").classList.contains("over")`)
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
	only := `[...document.querySelectorAll(".shot b")].map((n) => n.textContent).join() === "near" && document.querySelectorAll(".shot .pick").length === 1`
	b.open(scene)
	b.until(`document.querySelectorAll(".shot").length === 1`)
	b.addPhotograph()
	b.until(only)
	b.open(scene)
	b.until(`document.getElementById("notice").textContent.startsWith("Opened")`)
	b.until(only + ` && document.querySelector(".shot img")?.naturalWidth > 0`)
	b.quiet()
}
