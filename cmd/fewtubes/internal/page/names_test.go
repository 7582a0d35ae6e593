package page

import (
	"encoding/json"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/scene"

	"github.com/chromedp/chromedp"
)

// evilNames are what a file or a target may be called by who means harm: markup,
// what turns the direction of writing or steers a terminal, formulas, paths, ends
// of the languages the page is written in.
var evilNames = []string{
	`<img src=x onerror=window.hit=1>`, `<svg onload=window.hit=1>`, `"><script>window.hit=1</script>`, `</title><script>window.hit=1</script>`,
	`' onmouseover='window.hit=1`, `{{.Title}}`, `=HYPERLINK("http://elsewhere.example")`, `javascript:window.hit=1`, "\x1b[2J\x1b]0;owned\x07", "marsh\u202egpj.exe",
	"a\r\nSet-Cookie: x=1", "a\u2028event: trouble", "a\x00b", "\xff\xfe", `..\..\etc\passwd`, "../../etc/passwd", `a"; filename="b.exe`, strings.Repeat("x", 5000),
}

// steers reports whether text would steer what shows it, or hides bytes.
func steers(text string) bool {
	return !plain.Line(text) || strings.ContainsFunc(text, unicode.IsControl) || strings.ToValidUTF8(text, "") != text
}

// The name of a photograph comes back as a last part of a path without anything
// that steers, within JSON in which nothing is markup.
func TestNamesOfPhotographs(t *testing.T) {
	server := newServer(t)
	data, err := os.ReadFile("../photo/testdata/srgb.png")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range evilNames {
		status, head, text := send(t, server, "POST", "/photo?name="+url.QueryEscape(name+".png"), data, nil)
		var got struct{ File string }
		if err := json.Unmarshal(text, &got); err != nil || status != http.StatusOK {
			t.Fatalf("%q: %d %v", name, status, err)
		}
		if steers(got.File) || strings.ContainsAny(got.File, `/\`) || len([]rune(got.File)) > 80 || got.File == "" {
			t.Errorf("%q is held as %q", name, got.File)
		}
		inert(t, name, head, text)
		status, head, text = send(t, server, "POST", "/photo?name="+url.QueryEscape(name), []byte("no picture"), nil)
		if status != http.StatusUnprocessableEntity || steers(string(text)) {
			t.Errorf("%q: %d %q", name, status, text)
		}
		inert(t, name, head, text)
	}
}

// inert wants a kind that no browser runs, kept to by nosniff, with no markup in
// it where the kind has none.
func inert(t *testing.T, name string, head http.Header, text []byte) {
	t.Helper()
	kind, _, _ := strings.Cut(head.Get("Content-Type"), ";")
	switch kind {
	case "application/json", "text/event-stream":
		if strings.ContainsAny(string(text), "<>") {
			t.Errorf("%q: markup in %s: %.200q", name, kind, text)
		}
	case "text/plain", "application/toml", "application/pdf":
	default:
		t.Errorf("%q: sent as %q", name, kind)
	}
	if head.Get("X-Content-Type-Options") != "nosniff" || head.Get("Set-Cookie") != "" {
		t.Errorf("%q: %v", name, head)
	}
}

// Names in a scene come back, in whatever the page sends, as text or not at all:
// those that steer are refused by one line that shows them quoted.
func TestNamesInScenes(t *testing.T) {
	server := newServer(t)
	for _, name := range evilNames {
		scene := newState(&scene.Scene{Title: name, Tolerance: 3, Light: "D65", Photos: []scene.Photo{{Name: name, File: name}},
			Targets: []scene.Target{{Name: name, Colour: "lab(38 4 9)", Area: 1}}})
		palettes := []namedPalette{{name, []string{"titanium-white", "ivory-black"}}, {"b", []string{"ivory-black"}}}
		for path, body := range map[string]any{
			"/answer":  asks{scene, palettes[0].Tubes},
			"/scenes":  map[string]any{"from": map[string]any{"scene": scene}},
			"/compare": map[string]any{"scene": scene, "palettes": palettes},
			"/mix":     tableRequest{Light: "D65", Colour: name, Palette: []string{name}},
			"/pile":    tableRequest{Light: name, Pile: []ingredient{{Tube: name, Parts: 3}}},
			"/colours": map[string]string{"text": name + " = lab(38 4 9)"},
			"/pick":    map[string]string{"photo": name},
		} {
			status, head, text := send(t, server, "POST", path, []byte(text(body)), nil)
			inert(t, path+" "+name, head, text)
			if kind := head.Get("Content-Type"); strings.HasPrefix(kind, "text/plain") && (status < 400 || steers(string(text)) || len([]rune(string(text))) > 400) {
				t.Errorf("%s %.40q: %d %.200q", path, name, status, text)
			}
			if strings.HasPrefix(head.Get("Content-Type"), "application/toml") {
				for line := range strings.Lines(string(text)) {
					if steers(strings.TrimSuffix(line, "\n")) {
						t.Errorf("%s %.40q: %.200q", path, name, line)
					}
				}
			}
			if path == "/answer" && status == 200 {
				eventsAreLines(t, string(text))
			}
			if html := fragment(text); html != "" && (strings.Contains(html, "<img") || strings.Contains(html, "<script") || strings.Contains(html, "<svg onload") || strings.Contains(html, "' onmouse")) {
				t.Errorf("%s %.40q: markup in the report: %.300s", path, name, html)
			}
		}
		status, head, text := send(t, server, "POST", "/open?name="+url.QueryEscape(name), []byte("format = 1\ntitle = 7\n"), nil)
		if inert(t, name, head, text); status != 400 || steers(string(text)) {
			t.Errorf("%.40q: %d %.200q", name, status, text)
		}
		status, head, _ = send(t, server, "GET", "/chart.pdf?paper=A4&palette=titanium-white,ivory-black&name="+url.QueryEscape(name), nil, nil)
		if status != 200 || head.Get("Content-Disposition") != `attachment; filename="practice-chart.pdf"` {
			t.Errorf("%.40q: %d %q", name, status, head.Get("Content-Disposition"))
		}
	}
}

// fragment is the report in an answer.
func fragment(text []byte) string {
	var got struct{ HTML string }
	_, data, streamed := strings.Cut(string(text), "event: report\ndata: ")
	if !streamed {
		data = string(text)
	}
	data, _, _ = strings.Cut(data, "\n")
	_ = json.Unmarshal([]byte(data), &got)
	return got.HTML
}

// eventsAreLines wants nothing in a stream but events that the server names.
func eventsAreLines(t *testing.T, text string) {
	t.Helper()
	for _, line := range strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\r' }) {
		kind, known := strings.CutPrefix(line, "event: ")
		if strings.HasPrefix(line, "data: ") {
			continue
		}
		if !known || !strings.Contains(" queue turn progress answer report loosen sure lessons result trouble stopped ", " "+kind+" ") {
			t.Errorf("in the stream: %.100q", line)
		}
	}
}

// A photograph whose very file is called so stays text all over the page.
func TestFileNamesAreInert(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile("../photo/testdata/srgb.png")
	if err != nil {
		t.Fatal(err)
	}
	b := browser(t)
	for i, name := range []string{`<img src=x onerror=window.hit=1>.png`, `"><svg onload=window.hit=1>.png`, `' onmouseover='window.hit=1.png`} {
		file := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(file, append(data, byte(i)), 0o644); err != nil { // each another photograph
			t.Fatal(err)
		}
		b.do(chromedp.SetUploadFiles("#photo-file", []string{file}))
		b.until(`document.querySelectorAll("[data-photo]").length === ` + string(rune('1'+i)))
		b.until(`[...document.querySelectorAll("[data-photo]")].some((p) => p.dataset.photo === ` + text(strings.TrimSuffix(name, ".png")) + `)`)
	}
	b.want(`window.hit === undefined && document.querySelectorAll("main [onerror], main [onload], main [onmouseover], main script").length === 0`)
	b.quiet()
}
