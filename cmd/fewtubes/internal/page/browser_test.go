package page

import (
	"context"
	"net/http/httptest"
	"os"
	"path/filepath"
	"testing"
	"time"

	"fewtubes/catalog"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// patience is for one whole test; the machines are shared and slow at times.
const patience = 2 * time.Minute

// browser opens a tab of headless Chromium on a fresh page server. make test
// installs Chromium where it is missing.
func browser(t *testing.T) (context.Context, string) {
	t.Helper()
	stock, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(New(stock, "127.0.0.1").Handler())
	t.Cleanup(server.Close)
	alloc, stop := chromedp.NewExecAllocator(context.Background(), append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.NoSandbox, chromedp.DisableGPU, chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true))...)
	t.Cleanup(stop)
	ctx, cancel := chromedp.NewContext(alloc)
	t.Cleanup(cancel)
	do(t, ctx, chromedp.EmulateViewport(1440, 900)) // starts the browser: a deadline here would end it
	ctx, late := context.WithTimeout(ctx, patience)
	t.Cleanup(late)
	do(t, ctx, chromedp.Navigate(server.URL), chromedp.WaitVisible("#cards li"))
	return ctx, server.URL
}

func do(t *testing.T, ctx context.Context, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(ctx, steps...); err != nil {
		t.Fatal(err)
	}
}

// eval is the value of a script; promises are awaited.
func eval[T any](t *testing.T, ctx context.Context, script string) T {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatalf("%s: %v", script, err)
	}
	return v
}

// until waits for a script to become true.
func until(t *testing.T, ctx context.Context, script string) {
	t.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(30 * time.Millisecond) {
		if eval[bool](t, ctx, script) {
			return
		}
	}
	t.Fatalf("after %v still not: %s\nnotice: %s\nprogress: %s", patience, script,
		eval[string](t, ctx, `document.getElementById("notice").textContent`),
		eval[string](t, ctx, `document.getElementById("progress").textContent`))
}

// shot keeps a picture of the whole page for a person to look at, in the folder
// FEWTUBES_SHOTS names.
func shot(t *testing.T, ctx context.Context, name string) {
	t.Helper()
	dir := os.Getenv("FEWTUBES_SHOTS")
	if dir == "" {
		return
	}
	png, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, name+".png"), png, 0o644); err != nil {
		t.Fatal(err)
	}
}

const answered = `document.getElementById("result").dataset.answer !== undefined && document.getElementById("progress").textContent === ""`

// The whole job by eye: a photograph in, five colours picked by pointer and by
// keyboard, limits set, an answer, a limit changed, saved, opened again, printed.
func TestWholeJob(t *testing.T) {
	ctx, _ := browser(t)
	photo, err := filepath.Abs("../../../../testdata/salt-marsh/wide.jpg")
	if err != nil {
		t.Fatal(err)
	}
	shot(t, ctx, "empty-1440")
	do(t, ctx, chromedp.SetUploadFiles("#photo-file", []string{photo}), chromedp.WaitVisible(".shot img"))
	until(t, ctx, `document.querySelector(".shot img").complete && document.querySelector(".shot img").naturalWidth > 0`)

	type box struct{ X, Y, W, H float64 }
	for _, at := range [][2]float64{{0.5, 0.1}, {0.3, 0.55}, {0.7, 0.8}} {
		n := eval[int](t, ctx, `document.querySelectorAll("#targets tbody tr").length`)
		do(t, ctx, chromedp.ScrollIntoView(".shot .view"))
		b := eval[box](t, ctx, `(() => { const b = document.querySelector(".shot img").getBoundingClientRect(); return {X: b.left, Y: b.top, W: b.width, H: b.height}; })()`)
		do(t, ctx, chromedp.MouseClickXY(b.X+at[0]*b.W, b.Y+at[1]*b.H))
		until(t, ctx, `document.querySelectorAll("#targets tbody tr").length === `+string(rune('0'+n+1)))
	}
	do(t, ctx, chromedp.Focus(".shot .view"), chromedp.KeyEvent(kb.ArrowDown, chromedp.KeyModifiers(chromedp.ModifierShift)), chromedp.KeyEvent(kb.Enter))
	until(t, ctx, `document.querySelectorAll("#targets tbody tr").length === 4`)
	do(t, ctx, chromedp.Focus(".shot .view"), chromedp.KeyEvent(kb.ArrowLeft, chromedp.KeyModifiers(chromedp.ModifierShift)), chromedp.KeyEvent(kb.Enter))
	until(t, ctx, `document.querySelectorAll("#targets tbody tr").length === 5`)
	until(t, ctx, answered)
	shot(t, ctx, "answer-1440")
	do(t, ctx, chromedp.EmulateViewport(390, 844))
	shot(t, ctx, "answer-390")
}
