package page

import (
	"context"
	"fmt"
	"io/fs"
	"net"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/atomicfile"
	"fewtubes/cmd/fewtubes/internal/kept"

	"github.com/chromedp/chromedp"
)

// program is a page over a folder of scenes that can end and be started again at
// the same address.
type program struct {
	t    *testing.T
	dir  string
	addr string
	end  func()
	full atomic.Bool // its disk takes nothing
}

func started(t *testing.T) *program {
	t.Helper()
	p := &program{t: t, dir: t.TempDir(), addr: "127.0.0.1:0"}
	p.start()
	t.Cleanup(func() { p.end() })
	return p
}

func (p *program) start() {
	p.t.Helper()
	stock, err := catalog.Builtin()
	if err != nil {
		p.t.Fatal(err)
	}
	scenes, err := kept.Open(p.dir, Form)
	if err != nil {
		p.t.Fatal(err)
	}
	onDisk := func(write func(string, []byte) error) func(string, []byte) error {
		return func(path string, data []byte) error {
			if p.full.Load() {
				return &fs.PathError{Op: "write", Path: path, Err: syscall.ENOSPC}
			}
			return write(path, data)
		}
	}
	scenes.WriteWith(onDisk(atomicfile.CreatePrivate), onDisk(atomicfile.ReplacePrivate))
	listener, err := net.Listen("tcp", p.addr)
	if err != nil {
		p.t.Fatal(err)
	}
	p.addr = listener.Addr().String()
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- New(stock, "127.0.0.1", scenes).Serve(ctx, listener) }()
	p.end = func() {
		cancel()
		if err := <-ended; err != nil {
			p.t.Error(err)
		}
		p.end = func() {}
	}
}

// tab opens one on the page, in a browser context of its own.
func (p *program) tab() *tab {
	p.t.Helper()
	b := p.tabAt("http://" + p.addr)
	b.stands()
	return b
}

// tabAt opens one on an address.
func (p *program) tabAt(url string) *tab {
	p.t.Helper()
	chromium.start.Do(startChromium)
	if chromium.err != nil {
		p.t.Fatal(chromium.err)
	}
	ctx, cancel := chromedp.NewContext(chromium.ctx, chromedp.WithNewBrowserContext())
	p.t.Cleanup(cancel)
	ctx, late := context.WithTimeout(ctx, patience)
	p.t.Cleanup(late)
	return p.tabIn(ctx, url)
}

// beside opens a second tab of the same browser.
func (p *program) beside(b *tab) *tab {
	p.t.Helper()
	ctx, cancel := chromedp.NewContext(b.ctx)
	p.t.Cleanup(cancel)
	second := p.tabIn(ctx, b.url)
	second.stands()
	return second
}

func (p *program) tabIn(ctx context.Context, url string) *tab {
	p.t.Helper()
	b := &tab{t: p.t, ctx: ctx, url: "http://" + p.addr}
	b.do(chromedp.EmulateViewport(1440, 900))
	b.listen()
	b.do(chromedp.Navigate(url))
	return b
}

// show goes to an address and waits until the page stands.
func (b *tab) show(url string) {
	b.t.Helper()
	b.do(chromedp.Navigate(url))
	b.stands()
}

func (b *tab) stands() {
	b.t.Helper()
	b.do(chromedp.WaitReady("body[data-ready]"))
}

const store = `const store = await import("/store.js");`

// inStore is what a script gives that has the page's store.
func (b *tab) inStore(script string) bool {
	b.t.Helper()
	return b.eval(`(async () => { ` + store + script + ` })()`)
}

// act names the scene, as an act of its own.
func (b *tab) act(title string) {
	b.t.Helper()
	b.inStore(`store.act("called it ` + title + `", (s) => { s.title = "` + title + `"; }); return true;`)
}

// called waits until the scene has a title.
func (b *tab) called(title string) {
	b.t.Helper()
	b.until(`(async () => { ` + store + ` return store.scene().title === "` + title + `"; })()`)
}

// kept waits until the program has what the tab shows.
func (p *program) kept(title string) {
	p.t.Helper()
	for end := time.Now().Add(stepPatience); time.Now().Before(end); time.Sleep(30 * time.Millisecond) {
		files, _ := filepath.Glob(filepath.Join(p.dir, "scenes", "*", "scene.toml"))
		for _, f := range files {
			if text, _ := os.ReadFile(f); strings.Contains(string(text), `title = "`+title+`"`) {
				return
			}
		}
	}
	p.t.Fatalf("%q was never kept", title)
}

// marsh starts a tab on the demo.
func (p *program) marsh() *tab {
	p.t.Helper()
	b := p.tab()
	b.do(chromedp.Click("#try-marsh"))
	b.called("Salt marsh at ebb tide")
	return b
}

const whole = `return store.scene().targets.length === 24 && store.scene().photos.length === 2 && store.scene().photos.every((p) => p.id);`

// Nothing is lost by reload, Back, any link of the page, or the address of another
// scene.
func TestNothingIsLostOnTheWay(t *testing.T) {
	p := started(t)
	b := p.marsh()
	b.act("Neap")
	for _, way := range []string{"reload", "links", "back", "root"} {
		switch way {
		case "reload":
			b.do(chromedp.Reload())
		case "links":
			for _, hash := range value[[]string](b, `[...new Set([...document.querySelectorAll("a[href^='#']")].map((a) => a.hash))]`) {
				b.do(chromedp.Evaluate[chromedp.Void](`location.hash = "` + hash + `"`))
				b.until(`location.hash === "` + hash + `"`)
			}
			b.do(chromedp.Reload())
		case "back":
			b.do(chromedp.NavigateBack(), chromedp.NavigateBack())
		case "root":
			b.do(chromedp.Navigate(b.url))
		}
		b.stands()
		b.called("Neap")
		if !b.inStore(whole + ` /* after ` + way + ` */`) {
			t.Errorf("lost by %s", way)
		}
		b.want(`(async () => { ` + store + ` return store.undoes() === "called it Neap"; })()`)
	}
	b.inStore(`store.begin("empty"); return true;`)
	b.called("")
	b.do(chromedp.NavigateBack())
	b.do(chromedp.Evaluate[chromedp.Void](`location.hash = ""`))
	b.show(b.url + "/s/salt-marsh-at-ebb-tide")
	b.called("Neap")
}

// Ended and started again, the program finds its pages waiting: what was typed
// meanwhile stays, is kept and can be taken back by name.
func TestProgramEndsAndIsBack(t *testing.T) {
	p := started(t)
	b := p.marsh()
	b.act("Neap")
	p.kept("Neap")
	p.end()
	b.until(`document.getElementById("notice").textContent.includes("stopped")`)
	for _, title := range []string{"Spring", "Storm", "Flood"} {
		b.act(title)
	}
	b.called("Flood")
	b.do(chromedp.Click("#undo"))
	b.called("Storm")
	b.act("Flood")
	p.start()
	p.kept("Flood")
	b.until(`!document.getElementById("notice").textContent.includes("stopped")`)
	for _, want := range []string{"Storm", "Spring", "Neap", "Salt marsh at ebb tide"} {
		b.do(chromedp.Click("#undo"))
		b.called(want)
		p.kept(want)
	}
	b.do(chromedp.Click("#redo"))
	b.called("Neap")
}

// A tab that is discarded while the program is away has what was typed when it is
// looked at again; changed elsewhere meanwhile, both are kept.
func TestDiscardedTab(t *testing.T) {
	p := started(t)
	b := p.marsh()
	p.end()
	b.act("Typed")
	b.do(chromedp.Navigate("about:blank"))
	p.start()
	b.do(chromedp.NavigateBack())
	b.stands()
	b.called("Typed")
	p.kept("Typed")

	p.end()
	b.act("Mine")
	b.do(chromedp.Navigate("about:blank"))
	p.start()
	other := p.tab()
	other.act("Theirs")
	p.kept("Theirs")
	b.do(chromedp.NavigateBack())
	b.stands()
	b.called("Theirs")
	p.kept("Mine, as this page had it")
}

// Of two tabs on one scene the other follows at once; acts of both stay, and either
// takes back the last.
func TestTabsFollow(t *testing.T) {
	p := started(t)
	one := p.marsh()
	two := p.beside(one)
	two.called("Salt marsh at ebb tide")
	one.act("Neap")
	start := time.Now()
	two.called("Neap")
	t.Logf("followed after %v", time.Since(start))
	for i := range 6 {
		b := []*tab{one, two}[i%2]
		b.inStore(`store.act("a note", (s) => { s.targets.push({name: "note ` + string(rune('0'+i)) + `", colour: "#7a8c5a", area: 1}); }); return true;`)
	}
	for _, b := range []*tab{one, two} {
		b.until(`(async () => { ` + store + ` return store.scene().targets.length === 30; })()`)
	}
	two.do(chromedp.Click("#undo"))
	one.until(`(async () => { ` + store + ` return store.scene().targets.length === 29 && store.redoes() === "a note"; })()`)
	one.do(chromedp.Click("#redo"))
	two.until(`(async () => { ` + store + ` return store.scene().targets.length === 30; })()`)
}

// A file changed outside is followed by the page, and can be taken back.
func TestChangedOutsideIsShown(t *testing.T) {
	p := started(t)
	b := p.marsh()
	file := filepath.Join(p.dir, "scenes", "salt-marsh-at-ebb-tide", "scene.toml")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(strings.Replace(string(text), "Salt marsh at ebb tide\"", "By hand\"", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	b.called("By hand")
	b.do(chromedp.Click("#undo"))
	b.called("Salt marsh at ebb tide")
	p.kept("Salt marsh at ebb tide")
}

// A full disk is said in one line. What was typed stays, is kept when there is room,
// and nothing is half written meanwhile.
func TestFullDiskIsSaid(t *testing.T) {
	p := started(t)
	b := p.marsh()
	p.full.Store(true)
	b.act("Neap")
	b.until(`document.getElementById("notice").textContent.includes("no space left on device; make room")`)
	b.act("Spring")
	b.called("Spring")
	files, _ := filepath.Glob(filepath.Join(p.dir, "scenes", "*", "*"))
	for _, f := range files {
		if text, _ := os.ReadFile(f); strings.Contains(string(text), "Neap") {
			t.Errorf("%s was written", f)
		}
	}
	p.full.Store(false)
	p.kept("Spring")
	b.do(chromedp.Click("#undo"))
	b.called("Neap")
}

// Scenes are opened, copied, removed, restored and forgotten by hand, and what is
// forgotten asks once more.
func TestScenesByHand(t *testing.T) {
	p := started(t)
	b := p.marsh()
	b.act("Neap")
	p.kept("Neap")
	b.do(chromedp.Evaluate[chromedp.Void](`location.hash = "#scenes"`))
	press := func(words string) {
		t.Helper()
		b.until(`!!document.querySelector('#scenes [aria-label="` + words + `"]')`)
		b.do(chromedp.Click(`#scenes [aria-label="` + words + `"]`))
	}
	there := func(words string, is bool) {
		t.Helper()
		b.until(fmt.Sprintf(`!!document.querySelector('#scenes [aria-label="%s"]') === %t`, words, is))
	}
	b.until(`document.querySelector("#scenes .kept .thumbs img")?.naturalWidth === 240`)
	b.until(`document.getElementById("scenes").textContent.includes("` + p.dir + `")`)
	press("Copy: Neap")
	b.called("Neap, copy")
	press("Open: Neap")
	b.called("Neap")
	press("Remove: Neap")
	b.called("Neap, copy")
	there("Open: Neap", false)
	press("Restore: Neap")
	there("Open: Neap", true)
	press("Save as a file")
	b.until(`document.getElementById("notice").textContent.includes("Saved as neap-copy.toml")`)
	press("Hand on")
	b.until(`document.getElementById("notice").textContent.includes("Saved as neap-copy.zip")`)
	press("Remove: Neap")
	there("Restore: Neap", true)
	b.withAxe()
	b.accessibleIn("scenes with removed", "document")
	press("Forget now: Neap")
	b.until(`document.getElementById("notice").textContent.includes("Press once more")`)
	there("Restore: Neap", true)
	press("Forget now: Neap")
	there("Restore: Neap", false)
	if scenes, _ := filepath.Glob(filepath.Join(p.dir, "*", "*")); len(scenes) != 1 {
		t.Error(scenes)
	}
	press("New scene")
	b.called("")
	b.until(`document.querySelectorAll("#scenes .kept li").length === 2`)
	b.quiet("status of 404") // the stream of the scene that was removed
}

// A scene removed in one tab is not lost in another that works on.
func TestRemovedElsewhere(t *testing.T) {
	p := started(t)
	one := p.marsh()
	two := p.beside(one)
	two.called("Salt marsh at ebb tide")
	one.eval(`fetch("/scenes/salt-marsh-at-ebb-tide/forget", {method: "POST", body: "{}"}).then((r) => r.ok)`)
	two.until(`document.getElementById("notice").textContent.includes("removed")`)
	two.act("Mine")
	p.kept("Mine")
	two.called("Mine")
	two.until(`location.pathname === "/s/mine"`)
}
