package page

import (
	"context"
	"fmt"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/kept"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// patience is for one whole test beside others; the machines are shared and slow
// at times.
const patience = 3 * time.Minute

// stepPatience is for one step of it.
const stepPatience = 60 * time.Second

// tab is a tab of headless Chromium on a page server of its own, in a window of
// its own.
type tab struct {
	t   *testing.T
	ctx context.Context
	url string

	mu      sync.Mutex
	console []string // errors and warnings, broken policies among them
}

// newScenes is a folder of scenes without any.
func newScenes(t testing.TB) *kept.Store {
	t.Helper()
	scenes, err := kept.Open(t.TempDir(), Form)
	if err != nil {
		t.Fatal(err)
	}
	return scenes
}

func newServer(t testing.TB) *httptest.Server {
	t.Helper()
	stock, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(New(stock, "127.0.0.1", newScenes(t)).Handler())
	t.Cleanup(server.Close)
	return server
}

// chromium is the one browser of all tests, started by the first that asks for
// it; make test installs it where it is missing. Its lifetime is that of the
// context: a deadline in it would end the browser.
var chromium struct {
	start sync.Once
	ctx   context.Context
	end   func()
	err   error
}

func startChromium() {
	alloc, stop := chromedp.NewExecAllocator(context.Background(), append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.NoSandbox, chromedp.DisableGPU, chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true),
		// The address bar's own pages cost each window more than most of ours do.
		chromedp.Flag("disable-features", "Translate,BlinkGenPropertyTrees,WebUIOmniboxPopup,WebUIOmniboxAimPopup,WebUIOmniboxFullPopup"))...)
	ctx, cancel := chromedp.NewContext(alloc)
	chromium.ctx, chromium.end = ctx, func() { cancel(); stop() }
	chromium.err = chromedp.Do(ctx)
}

func TestMain(m *testing.M) {
	code := m.Run()
	if chromium.end != nil {
		chromium.end()
	}
	os.Exit(code)
}

// browser opens a tab in a context of its own: nothing that another test's tabs
// store, load or download is seen from it.
func browser(t *testing.T) *tab {
	t.Helper()
	server := newServer(t)
	chromium.start.Do(startChromium)
	if chromium.err != nil {
		t.Fatal(chromium.err)
	}
	ctx, cancel := chromedp.NewContext(chromium.ctx, chromedp.WithNewBrowserContext())
	t.Cleanup(cancel)
	ctx, late := context.WithTimeout(ctx, patience)
	t.Cleanup(late)
	b := &tab{t: t, ctx: ctx, url: server.URL}
	b.do(chromedp.EmulateViewport(1440, 900))
	b.listen()
	b.goTo(server.URL)
	return b
}

// another opens a second tab of the same browser on a page server.
func (b *tab) another(url string) *tab {
	b.t.Helper()
	ctx, cancel := chromedp.NewContext(b.ctx)
	b.t.Cleanup(cancel)
	second := &tab{t: b.t, ctx: ctx, url: url}
	second.do(chromedp.EmulateViewport(1440, 900))
	second.listen()
	second.goTo(url)
	return second
}

func (b *tab) goTo(url string) {
	b.t.Helper()
	b.do(chromedp.Navigate(url), chromedp.WaitReady("body[data-ready]"))
}

// listen gathers what the browser complains of.
func (b *tab) listen() {
	messages := chromedp.Console(b.ctx)
	go func() {
		for m, err := range messages {
			if err != nil {
				return
			}
			if kind := string(m.Type); m.IsException() || strings.Contains(kind, "error") || strings.Contains(kind, "warn") {
				b.mu.Lock()
				b.console = append(b.console, fmt.Sprintf("%s (%s:%d)", m, m.URL, m.Line))
				b.mu.Unlock()
			}
		}
	}()
}

// refused is how the browser notes a question that was answered by what is wrong
// with it.
const refused = "status of 400"

// quiet fails when the browser complained of anything but what is expected.
func (b *tab) quiet(expected ...string) {
	b.t.Helper()
	b.eval(`new Promise((done) => setTimeout(() => done(true), 50))`) // what was said last arrives
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, text := range b.console {
		if slices.ContainsFunc(expected, func(part string) bool { return strings.Contains(text, part) }) {
			continue
		}
		b.t.Errorf("console: %s", text)
	}
}

func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, steps...); err != nil {
		b.t.Fatal(err)
	}
}

// value is what a script gives; promises are awaited.
func value[T any](b *tab, script string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatalf("%s: %v", script, err)
	}
	return v
}

func (b *tab) eval(script string) bool { b.t.Helper(); return value[bool](b, script) }

// until waits for a script to become true.
func (b *tab) until(script string) {
	b.t.Helper()
	for end := time.Now().Add(stepPatience); time.Now().Before(end); time.Sleep(30 * time.Millisecond) {
		if b.eval(script) {
			return
		}
	}
	b.t.Fatalf("never: %s\nnotice: %s", script, value[string](b, `document.getElementById("notice").textContent + "|" + document.querySelector(".headline")?.textContent`))
}

// want asserts a script.
func (b *tab) want(script string) {
	b.t.Helper()
	if !b.eval(script) {
		b.t.Errorf("not so: %s\nnotice: %s", script, value[string](b, `document.getElementById("notice").textContent`))
	}
}

// scheme emulates light or dark surroundings.
func (b *tab) scheme(name string) {
	b.t.Helper()
	_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: name}},
	})
	if err != nil {
		b.t.Fatal(err)
	}
}

// shot keeps a picture of the window for a person to look at, in the folder
// FEWTUBES_SHOTS names.
func (b *tab) shot(name string) {
	b.t.Helper()
	dir := os.Getenv("FEWTUBES_SHOTS")
	if dir == "" {
		return
	}
	png, err := chromedp.Run(b.ctx, chromedp.Screenshot("html"))
	if err != nil {
		b.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, name+".png"), png, 0o644); err != nil {
		b.t.Fatal(err)
	}
}

// States of the answer. A question is on its way from the act that asks it.
const (
	answered = `(document.getElementById("answer").dataset.answer ?? "") !== "" && !("old" in document.body.dataset)`
	learned  = `document.getElementById("answer").dataset.stage === "lessons" && !("asking" in document.body.dataset)`
	targets  = `document.querySelectorAll(".chip").length`
)

// tubes are the ids of the palette on the page.
func (b *tab) tubes() string {
	b.t.Helper()
	return value[string](b, `document.getElementById("answer").dataset.answer`)
}

// theReport is the whole report of the answer, as a document called doc.
const theReport = `const doc = new DOMParser().parseFromString((await import("/store.js")).answer()?.html ?? "", "text/html"); `

// reported is what a script gives that reads the report.
func reported[T any](b *tab, script string) T {
	b.t.Helper()
	return value[T](b, `(async () => { `+theReport+`return `+script+`; })()`)
}

// typeColours types colours, at the first start or later.
func (b *tab) typeColours(text string) {
	b.t.Helper()
	b.do(chromedp.Evaluate[chromedp.Void](`(document.body.classList.contains("first") ? document.getElementById("type") : document.getElementById("add")).click()`))
	b.do(chromedp.SendKeys("#typed-text", text), chromedp.Click("#typed .main"))
}

// limit sets one of the limits behind "more".
func (b *tab) limit(name, value string) {
	b.t.Helper()
	b.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("more-limits").click()`))
	b.set("#limit-form [name="+name+"]", value)
	b.do(chromedp.Click("#limit-form .main"))
}

// avoids ticks a class of tubes behind "more".
func (b *tab) avoids(class string) {
	b.t.Helper()
	b.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("more-limits").click()`), chromedp.Click(`#avoid [value="`+class+`"]`), chromedp.Click("#limit-form .main"))
}

// set changes a field as a person does who types into it and leaves it.
func (b *tab) set(selector, text string) {
	b.t.Helper()
	b.do(chromedp.Evaluate[chromedp.Void](`(() => { const f = document.querySelector(` + "`" + selector + "`" + `); f.focus(); f.value = "` + text + `"; f.dispatchEvent(new Event("input", {bubbles: true})); f.dispatchEvent(new Event("change", {bubbles: true})); })()`))
}

// place opens a place of the page, and waits until it is there.
func (b *tab) place(name string) {
	b.t.Helper()
	b.do(chromedp.Evaluate[chromedp.Void](`location.hash = "` + name + `"`))
	if name != "" {
		b.until(`document.getElementById("` + name + `")?.hidden === false && document.getElementById("` + name + `").childElementCount > 0`)
	}
}

func absolute(t testing.TB, path string) string {
	t.Helper()
	out, err := filepath.Abs(path)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// shows waits until a photograph is on the stage.
const shows = `document.querySelector("#view.loaded #seen")?.naturalWidth > 0`

// addPhotograph brings the close view of the marsh without colours suggested, and
// waits until it is shown.
func (b *tab) addPhotograph() {
	b.t.Helper()
	b.typeColours("plain = lab(50 0 0)")
	b.until(targets + " === 1")
	b.do(chromedp.SetUploadFiles("#photo-file", []string{absolute(b.t, "../../../../testdata/salt-marsh/close.jpg")}))
	b.until(shows)
}
