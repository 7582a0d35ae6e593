package page

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// The whole job by eye: a photograph in, five colours picked by pointer and by
// keyboard, limits set, an answer whose numbers are the command line's, a limit
// changed and taken back, kept as a file, opened again with its comments, printed.
func TestWholeJob(t *testing.T) {
	t.Parallel()
	command := build(t)
	b := browser(t)
	b.pickFive()
	b.limit("maxTubes", "7")
	b.avoids("lead")
	b.until(learned)
	b.shot("photo-answer-1440-light")

	first := b.save()
	b.checksOut(command, first)

	// A limit changed on colours already answered: the session has a past, the answer none.
	b.limit("budget", "45")
	b.until(learned)
	b.equalsCommand(command, b.save())

	b.limit("tolerance", "4")
	b.until(learned)
	second := b.save()
	if !strings.Contains(second, "tolerance = 4\n") {
		t.Errorf("saved:\n%s", second)
	}
	b.checksOut(command, second)
	b.equalsCommand(command, second)

	// Taken back, done again, reloaded.
	at := func(tolerance string) string {
		return `(async () => { const s = (await import("/store.js")).scene(); return s.tolerance === ` + tolerance + ` && s.targets.length === 5 && s.limits.avoid.includes("lead"); })()`
	}
	b.until(`document.getElementById("undo").title === "Take back: nearness 4"`)
	b.do(chromedp.Click("#undo"))
	b.until(at("3"))
	b.do(chromedp.Click("#redo"))
	b.until(at("4"))
	b.do(chromedp.Reload(), chromedp.WaitReady("body[data-ready]"))
	b.until(at("4") + ` && ` + targets + ` === 5`)
	b.until(shows)
	b.until(learned)

	b.reopens(second)
	b.prints()
	b.quiet()
}

// point is a place on the picture, in the window.
func (b *tab) point(x, y float64) (float64, float64) {
	b.t.Helper()
	type box struct{ X, Y, W, H float64 }
	v := value[box](b, `(() => { const b = document.getElementById("view").getBoundingClientRect(); return {X: b.left, Y: b.top, W: b.width, H: b.height}; })()`)
	return v.X + x*v.W, v.Y + y*v.H
}

// pickFive brings a photograph, takes the colours suggested back, and picks three by
// pointer, two by keyboard.
func (b *tab) pickFive() {
	b.t.Helper()
	b.do(chromedp.SetUploadFiles("#photo-file", []string{absolute(b.t, "../../../../testdata/salt-marsh/wide.jpg")}))
	b.until(shows + " && " + targets + " === 14")
	b.do(chromedp.Click("#undo"))
	b.until(targets + " === 0")
	for i, at := range [][2]float64{{0.5, 0.1}, {0.3, 0.55}, {0.7, 0.8}} {
		b.do(chromedp.MouseClickXY(b.point(at[0], at[1])))
		b.until(fmt.Sprintf(targets+" === %d", i+1))
	}
	far := chromedp.KeyModifiers(chromedp.ModifierShift)
	b.do(chromedp.Focus("#view"), chromedp.KeyEvent(kb.ArrowDown, far), chromedp.KeyEvent(kb.ArrowDown, far), chromedp.KeyEvent(kb.Enter))
	b.until(targets + " === 4")
	b.do(chromedp.KeyEvent(kb.ArrowUp, far), chromedp.KeyEvent(kb.ArrowUp, far), chromedp.KeyEvent(kb.ArrowUp, far), chromedp.KeyEvent(" "))
	b.until(targets + " === 5")
	b.want(`document.querySelectorAll(".mark").length === 5`)
}

// save reads the scene's file once the program has all acts.
func (b *tab) save() string {
	b.t.Helper()
	const settled = `(async () => {
		const s = await import("/store.js");
		const kept = await (await fetch("/scenes/" + s.id())).json();
		return JSON.stringify(kept.scene) === JSON.stringify(s.scene());
	})()`
	b.until(settled)
	return value[string](b, `(async () => (await fetch("/scenes/" + (await import("/store.js")).id() + "/scene.toml")).text())()`)
}

// reopens opens a file that a person wrote comments into, changes a limit, and
// finds the comments in what is saved.
func (b *tab) reopens(text string) {
	b.t.Helper()
	const head, side = "# Ebb tide, wind from the north-west.", "# the eye is patient outdoors"
	text = head + "\n" + strings.Replace(text, "tolerance = 4\n", "tolerance = 4 "+side+"\n", 1)
	before := value[string](b, "location.pathname")
	b.open(text)
	b.until(`location.pathname !== "` + before + `" && ` + targets + " === 5")
	b.limit("tolerance", "3.5")
	b.place("scenes")
	b.set("#scenes input[maxlength]", "Ebb")
	saved := b.save()
	for _, want := range []string{head + "\n", "tolerance = 3.5 " + side + "\n", `title = "Ebb"`} {
		if !strings.Contains(saved, want) {
			b.t.Errorf("%q is missing in\n%s", want, saved)
		}
	}
	b.place("")
}

// prints makes the page for the lid of the paint box.
func (b *tab) prints() {
	b.t.Helper()
	b.until(learned)
	pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperA4), chromedp.PDFPrintBackground()))
	if err != nil {
		b.t.Fatal(err)
	}
	pages := bytes.Count(pdf, []byte("/Type /Page\n")) + bytes.Count(pdf, []byte("/Type /Page/")) + bytes.Count(pdf, []byte("/Type /Page "))
	if !bytes.HasPrefix(pdf, []byte("%PDF-")) || pages < 1 || pages > 6 {
		b.t.Errorf("%d bytes of PDF, %d pages", len(pdf), pages)
	}
	if dir := os.Getenv("FEWTUBES_SHOTS"); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, "print.pdf"), pdf, 0o644); err != nil {
			b.t.Fatal(err)
		}
	}
}

// build makes the command of this very tree.
func build(t *testing.T) string {
	t.Helper()
	command := filepath.Join(t.TempDir(), "fewtubes")
	if out, err := exec.Command("go", "build", "-o", command, "../..").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return command
}

// checksOut runs check --json on the saved scene with the tubes on the page: mixes
// and misses are the command's to the last digit shown, and the palette is as small
// as that of choose.
func (b *tab) checksOut(command, text string) {
	b.t.Helper()
	file := b.keep(text)
	tubes := b.tubes()
	there := b.runs(command, "check", file, "--palette", tubes, "--json")
	b.shows(there)
	if n := b.runs(command, "choose", file, "--json")["minimum"].(map[string]any)["tubes"].(float64); int(n) != strings.Count(tubes, ",")+1 {
		b.t.Errorf("%v tubes would do, not %s", n, tubes)
	}
}

// equalsCommand holds the answer on the page against choose --json of the saved scene.
func (b *tab) equalsCommand(command, text string) {
	b.t.Helper()
	there := b.runs(command, "choose", b.keep(text), "--json")
	b.shows(there)
	others, limits := []string{}, []string{}
	for _, p := range there["palettes"].([]any)[1:] {
		others = append(others, joined(p.(map[string]any)["tubes"]))
	}
	for _, l := range there["limits"].([]any) {
		limits = append(limits, l.(string))
	}
	asked := reported[[]string](b, `[...doc.querySelectorAll(".asked li")].map((li) => li.textContent)`)
	b.same("limits", asked[len(asked)-len(limits):], limits)
	listed := reported[[]string](b, `[...doc.querySelectorAll("tr[data-palette]")].map((tr) => tr.dataset.palette)`)
	// The page puts equals together and shows one of each group.
	if len(others) > 0 && len(listed) == 0 || len(listed) > len(others) {
		b.t.Errorf("%d other palettes on the page, %d of the command", len(listed), len(others))
	}
	for _, tubes := range listed {
		if !slices.Contains(others, tubes) {
			b.t.Errorf("%s on the page is none of the command's palettes", tubes)
		}
	}
}

// shows holds palette, differences, recipes and misses against a document.
func (b *tab) shows(there map[string]any) {
	b.t.Helper()
	best := there["palettes"].([]any)[0].(map[string]any)
	b.same("palette", b.tubes(), joined(best["tubes"]))
	if worst := fmt.Sprintf("Worst ΔE00 %.2f, mean %.2f", best["worst_de"], best["mean_de"]); !reported[bool](b, `doc.body.textContent.includes("`+worst+`")`) {
		b.t.Errorf("not %s", worst)
	}
	var rows []string
	for i, t := range best["targets"].([]any) {
		t := t.(map[string]any)
		parts := t["parts_de"]
		if let, ok := t["let_down"].(map[string]any); ok {
			parts = let["de"]
		}
		rows = append(rows, fmt.Sprintf("%d %s: %.2f (%.2f) %t", i+1, t["name"], parts, t["de"], t["reached"]))
	}
	b.same("mixes", reported[[]string](b, `[...doc.querySelectorAll(".rows article")].map((a) => a.querySelector("h3, h4, h5").textContent
		+ ": " + a.querySelector(".de b").textContent + " (" + /measured freely ([0-9.]+)/.exec(a.querySelector(".recipe").textContent)[1] + ") " + !a.classList.contains("missed"))`), rows)
	drawn := value[[]string](b, `(async () => (await import("/store.js")).answer().targets.map((t, i) => i + 1 + " " + t.name + ": " + t.de.toFixed(2) + " " + t.within))()`)
	for i, t := range best["targets"].([]any) {
		t := t.(map[string]any)
		parts := t["parts_de"]
		if let, ok := t["let_down"].(map[string]any); ok {
			parts = let["de"]
		}
		b.same("recipe drawn", drawn[i], fmt.Sprintf("%d %s: %.2f %t", i+1, t["name"], parts, t["reached"]))
	}
}

func joined(ids any) string {
	var out []string
	for _, id := range ids.([]any) {
		out = append(out, id.(string))
	}
	return strings.Join(out, ",")
}

func (b *tab) same(what string, here, there any) {
	b.t.Helper()
	if !reflect.DeepEqual(here, there) {
		b.t.Errorf("%s on the page\n%v\nof the command\n%v", what, clip(here), clip(there))
	}
}

func (b *tab) runs(command string, args ...string) map[string]any {
	b.t.Helper()
	out, err := exec.CommandContext(b.ctx, command, args...).Output()
	if err != nil {
		b.t.Fatalf("%v: %v", args, err)
	}
	return parse(b.t, out)
}

func (b *tab) keep(text string) string {
	b.t.Helper()
	file := filepath.Join(b.t.TempDir(), "scene.toml")
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		b.t.Fatal(err)
	}
	return file
}

func parse(t *testing.T, text []byte) (out map[string]any) {
	t.Helper()
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

func clip(v any) string {
	text := fmt.Sprint(v)
	return text[:min(len(text), 600)]
}
