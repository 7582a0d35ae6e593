package page

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fewtubes/gamut/colour"

	cdpbrowser "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// tapped counts what a hand does, and does it.
type tapped struct {
	*tab
	taps int
}

func (b *tapped) tap(selector string) {
	b.t.Helper()
	b.taps++
	b.want(`document.querySelector(` + quoted(selector) + `).getBoundingClientRect().height >= 43.5`)
	b.do(chromedp.Click(selector))
}

// atMarsh is the demo with its whole answer.
func atMarsh(t *testing.T) *tapped {
	t.Helper()
	b := &tapped{tab: browser(t)}
	b.marsh()
	b.until(`document.getElementById("answer").dataset.stage === "lessons"`)
	return b
}

// press taps the button that has some words, as high as a finger; whatever is drawn anew
// meanwhile, there is one to tap.
func (b *tapped) press(within, words string) {
	b.t.Helper()
	b.taps++
	b.until(fmt.Sprintf(`(() => {
		const n = [...document.querySelectorAll(%q)].find((n) => n.getAttribute("aria-label") === %q || n.textContent.trim() === %[2]q);
		if (!n || n.disabled || n.getBoundingClientRect().height < 43.5) return false;
		n.click();
		return true;
	})()`, within+" button", words))
}

const (
	parts   = `[...document.querySelectorAll("#pile .amount b")].map((n) => n.textContent).join()`
	undoing = `document.getElementById("undo").getAttribute("aria-label")`
)

// A pile is mixed by - and +, taken back by name and laid out anew as planned; what was got
// is said in two taps after the colour was chosen, and what is to be added lies there in one.
func TestMixedByHand(t *testing.T) {
	t.Parallel()
	b := atMarsh(t)
	b.do(chromedp.Click(".chip:nth-child(2)"))
	b.until(`document.getElementById("what-i-got") !== null`)
	b.taps = 0
	b.tap("#what-i-got")
	b.until(`document.querySelectorAll("#pile .rows li").length > 1`)
	b.press("#got", "too cool")
	b.until(`document.querySelector("#got .added .rows li") !== null`)
	const most = 2
	if b.taps > most {
		t.Errorf("%d taps from the colour to the touch to add", b.taps)
	}
	t.Logf("what I got: %d taps", b.taps)

	planned := value[string](b.tab, parts)
	b.press("#got", "I added half")
	b.until(parts + ` !== ` + quoted(planned))
	b.until(undoing + `.includes("added to the pile")`)
	b.tap("#undo")
	b.until(parts + ` === ` + quoted(planned))

	// A step keeps the focus, and steps are one act.
	b.do(chromedp.Focus("#pile .amount button:last-child"), chromedp.KeyEvent(kb.Enter))
	b.until(parts + ` !== ` + quoted(planned))
	b.want(`document.activeElement.closest("#pile .amount") !== null && document.activeElement.textContent === "+"`)
	stepped := value[string](b.tab, parts)
	b.do(chromedp.KeyEvent(kb.Enter))
	b.until(parts + ` !== ` + quoted(stepped))
	b.until(undoing + `.includes("parts of")`)
	b.press("#pile", "the plan’s recipe again")
	b.until(parts + ` === ` + quoted(planned))
	b.tap("#undo")
	b.until(parts + ` !== ` + quoted(planned))

	// It lies there tomorrow, too.
	mixed := value[string](b.tab, parts)
	b.inStore(`await store.settled(); return true;`)
	b.do(chromedp.Reload())
	b.stands()
	b.do(chromedp.Click(".chip:nth-child(2)"))
	b.until(parts + ` === ` + quoted(mixed))

	b.press("#pile", "lamplight")
	b.until(`document.querySelector("#pile .touching").textContent.includes("by lamplight")`)
	b.press("#aside", "A string of values")
	b.until(`document.querySelectorAll("#aside .run button").length > 3`)
	b.tap("#aside .run button:first-child")
	b.until(`document.querySelector("#aside p[aria-live]")?.textContent.includes(", value ") === true`)
	b.press("#aside", "Other ways")
	b.press("#aside", "Lay it out")
	b.until(undoing + `.includes("another way")`)
	b.quiet()
}

func quoted(text string) string { return fmt.Sprintf("%q", text) }

// A photograph of the pile beside a grey card, touched twice, says what to add, and teaches
// the tubes; the lesson is taken back.
func TestWhatIGotByPhotograph(t *testing.T) {
	t.Parallel()
	b := atMarsh(t)
	file := filepath.Join(t.TempDir(), "pile.png")
	if err := os.WriteFile(file, photographed(t, greyCard, colour.Lab{L: 44, A: -11, B: 21}), 0o600); err != nil {
		t.Fatal(err)
	}
	b.do(chromedp.Click(".chip:nth-child(2)"))
	b.until(`document.getElementById("what-i-got") !== null`)
	b.taps = 0
	b.tap("#what-i-got")
	b.until(`document.querySelector("#pile .rows li") !== null`)
	b.press("#got", "photograph") // opens the system's dialogue, which counts as a part of it
	b.do(chromedp.SetUploadFiles("#got input[type=file]", []string{file}))
	b.until(`document.querySelector("#got .shot img")?.naturalWidth > 0`)
	type box struct{ X, Y, W, H float64 }
	for _, x := range []float64{0.25, 0.75} {
		b.taps++
		b.eval(`document.querySelector("#got .shot img").scrollIntoView({block: "center"}) === undefined`)
		at := value[box](b.tab, `(() => { const r = document.querySelector("#got .shot img").getBoundingClientRect(); return {X: r.left, Y: r.top, W: r.width, H: r.height}; })()`)
		b.do(chromedp.MouseClickXY(at.X+x*at.W, at.Y+at.H/2))
		b.until(`document.querySelector("#got .patch") !== null`)
	}
	b.until(`document.querySelector("#got").textContent.includes("my pile") && document.querySelector("#got .touching") !== null`)
	const most = 4
	if b.taps > most {
		t.Errorf("%d taps from the colour to what a photograph says", b.taps)
	}
	t.Logf("what I got, by photograph: %d taps", b.taps)
	b.press("#got", "Remember it: teach my tubes")
	b.until(`document.querySelector("#got").textContent.includes("Learnt: ")`)
	b.press("#aside", "Take back swatch 1")
	b.until(`document.querySelector("#got").textContent.includes("Taken back: ")`)
	b.quiet()
}

// Of what each colour asks for, tubes are struck through until those of the palette are left;
// a dot of the curve is a palette to take.
func TestWhyByHand(t *testing.T) {
	t.Parallel()
	b := atMarsh(t)
	b.do(chromedp.Evaluate[chromedp.Void](`location.hash = "why"`))
	b.until(`document.querySelectorAll("#why .of").length > 3`)
	b.want(`[...document.querySelectorAll("#why li:has(.of)")].every((row) => row.querySelectorAll(".square:not(.struck)").length >= 1)`)
	b.press("#why", "How sure")
	b.until(`document.querySelectorAll("#why .share").length > 0`)
	before := value[string](b.tab, `document.getElementById("answer").dataset.answer`)
	b.press("#why", "What each tube buys")
	b.until(`document.querySelectorAll("#why .curve button").length > 3`)
	b.do(chromedp.Focus("#why .curve button:nth-child(4)"))
	b.until(`document.querySelector("#why .curves + div li") !== null`)
	b.tap("#why .curves + div li button")
	b.until(`document.getElementById("answer").dataset.answer.split(",").length === 4 && document.body.dataset.place === ""`)
	if before == value[string](b.tab, `document.getElementById("answer").dataset.answer`) {
		t.Error("no other palette was taken")
	}
	b.want(undoing + `.includes("took 4 tubes")`)
	b.tap("#undo")
	b.until(`document.getElementById("answer").dataset.answer === ` + quoted(before))
	b.quiet()
}

// The plan of values is drawn and drawn anew in other numbers; the scene fitted to the tubes
// is one act, taken back by name; a wider picture takes more paint.
func TestValuesAndPackByHand(t *testing.T) {
	t.Parallel()
	b := atMarsh(t)
	b.do(chromedp.Click(`#ways [href="#values"]`))
	b.until(`[...document.querySelectorAll("#values .plans canvas")].filter((c) => c.width > 300).length >= 2`)
	b.press("#values", "2")
	b.until(`document.querySelector("#values .plans .rows").children.length === 2`)
	b.press("#values", "Do the planes recede?")
	b.until(`document.querySelector("#values .drawing svg circle") !== null`)
	b.want(`!document.querySelector("#values").textContent.includes("--")`)
	b.press("#values", "Fit the scene to these tubes")
	b.press("#values", "Take the fitted colours")
	b.until(undoing + `.includes("fitted the scene to the tubes")`)
	b.until(`document.getElementById("answer").dataset.stage === "lessons"`)
	b.tap("#undo")
	b.until(`!` + undoing + `.includes("fitted")`)

	b.do(chromedp.Click(`#ways [href="#pack"]`))
	const ml = `parseFloat(document.querySelector("#pack p b")?.textContent)`
	b.until(ml + ` > 0`)
	was := value[float64](b.tab, ml)
	b.press("#pack", "more: wide")
	b.until(fmt.Sprintf("%s > %g", ml, was))
	b.quiet()
}

// The lid card comes in three acts from the start; a colour stands alone in large type and
// the next follows by key.
func TestPrintedByHand(t *testing.T) {
	t.Parallel()
	b := atMarsh(t)
	b.taps = 0
	b.tap(`#ways [href="#print"]`)
	pdf := b.downloads(func() { b.press("#print", "Lid card") })
	if !strings.HasPrefix(pdf, "%PDF") {
		t.Errorf("%.20q", pdf)
	}
	const most = 3
	if b.taps > most {
		t.Errorf("%d acts to the lid card", b.taps)
	}
	t.Logf("lid card: %d acts", b.taps)
	b.press("#print", "In large type")
	b.until(`document.getElementById("large").open`)
	first := value[string](b.tab, `document.querySelector("#large h2").textContent`)
	b.do(chromedp.KeyEvent(kb.ArrowRight))
	b.until(`document.querySelector("#large h2").textContent !== ` + quoted(first))
	b.want(`parseFloat(getComputedStyle(document.querySelector("#large h2")).fontSize) >= 56`)
	b.press("#large", "Leave")
	b.until(`!document.getElementById("large").open`)
	b.quiet()
}

// downloads taps and reads the file the browser wrote.
func (b *tab) downloads(tap func()) string {
	b.t.Helper()
	dir, yes := b.t.TempDir(), true
	progress := chromedp.BrowserEvents(b.ctx, cdpbrowser.DownloadProgress)
	_, err := chromedp.CallBrowser(b.ctx, cdpbrowser.SetDownloadBehavior, cdpbrowser.SetDownloadBehaviorParams{
		Behavior: cdpbrowser.SetDownloadBehaviorBehaviorAllowAndName, DownloadPath: dir, EventsEnabled: &yes,
		BrowserContextID: chromedp.FromContext(b.ctx).BrowserContextID,
	})
	if err != nil {
		b.t.Fatal(err)
	}
	tap()
	for e, err := range progress {
		if err != nil {
			b.t.Fatal(err)
		}
		if e.State != cdpbrowser.DownloadProgressStateCompleted {
			continue
		}
		text, err := os.ReadFile(filepath.Join(dir, e.GUID))
		if errors.Is(err, fs.ErrNotExist) {
			continue // another tab's
		}
		if err != nil {
			b.t.Fatal(err)
		}
		return string(text)
	}
	b.t.Fatal("nothing was saved")
	return ""
}

// The places for the hands keep the rules of axe-core at both widths, in light and dark.
func TestPlacesOfHandsAreAccessible(t *testing.T) {
	t.Parallel()
	b := atMarsh(t)
	b.withAxe()
	for place, ready := range map[string]string{
		"mixing": "#pile .rows li", "why": "#why .of", "values": "#values .plans canvas", "pack": "#pack .rows li", "print": "#print .rows li",
	} {
		b.do(chromedp.Evaluate[chromedp.Void](`location.hash = "` + place + `"`))
		b.until(`document.querySelector("` + ready + `") !== null`)
		if place == "mixing" {
			b.press("#got", "too dark")
			b.until(`document.querySelector("#got .touching") !== null`)
		}
		b.accessibleIn(place, `"#`+place+`"`)
	}
}
