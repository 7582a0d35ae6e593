package page

import (
	"context"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"testing"

	"fewtubes/catalog"

	"github.com/chromedp/chromedp"
)

// busy fills the places of a queue until they are given back.
func busy(t *testing.T, q *queue) (release func()) {
	t.Helper()
	var all []func()
	for range computations {
		free, err := q.enter(context.Background(), nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, free)
	}
	return func() {
		for _, free := range all {
			free()
		}
	}
}

// Whatever has to wait for its turn shows its place in words and a number beside
// what was asked, and takes it away again.
func TestPlaceInLineIsShown(t *testing.T) {
	t.Parallel()
	stock, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	s := New(stock, "127.0.0.1", newScenes(t))
	server := httptest.NewServer(s.Handler())
	t.Cleanup(server.Close)
	first := browser(t)
	b := first.another(server.URL)
	waits := func(selector string, number int) {
		t.Helper()
		b.until(fmt.Sprintf(`document.querySelector(%q)?.textContent.endsWith("waiting for a turn: number %d in line")`, selector, number))
	}
	b.typeColours("mud = lab(38 4 9); sky = lab(73 -4 -17)")
	b.until(learned)

	release := busy(t, s.queue)
	b.do(chromedp.Click("[data-avoid=cadmium]"))
	waits(".headline", 1)
	b.do(chromedp.SetUploadFiles("#photo-file", []string{absolute(t, "../../../../testdata/salt-marsh/close.jpg")}))
	waits("#notice", 2)
	b.want(`document.getElementById("notice").textContent.startsWith("close.jpg is")`)
	release()
	b.until(learned + " && " + shows)
	b.want(`!document.querySelector(".headline").textContent.includes("waiting")`)

	release = busy(t, s.queue)
	b.do(chromedp.Click("#add"), chromedp.Click("#suggest"))
	waits("#notice", 1)
	release()
	b.until(targets + ` > 2 && document.getElementById("notice").textContent.includes("suggested.")`)
	b.until(learned)
	b.quiet()
}

// A stream of who waited ends in the same answer as a plain response, for every
// kind of question; who does not accept a stream gets none.
func TestWaitingEndsInTheSameAnswer(t *testing.T) {
	r := run(t)
	data, err := os.ReadFile("../photo/testdata/srgb.png")
	if err != nil {
		t.Fatal(err)
	}
	var kept struct{ ID string }
	_, text := r.raw(r.post("/photo?name=marsh.png", string(data)))
	if err := json.Unmarshal([]byte(text), &kept); err != nil {
		t.Fatal(err)
	}
	chart := "GET /chart.pdf?paper=A4&palette=titanium-white,ivory-black HTTP/1.1\r\nHost: " + r.addr + "\r\n\r\n"
	for name, question := range map[string]string{
		"mix":     r.post("/mix", `{"light": "D65", "colour": "lab(45 3 8)", "palette": ["titanium-white", "ivory-black"]}`),
		"pile":    r.post("/pile", `{"light": "A", "pile": [{"tube": "ultramarine-blue", "parts": 3}]}`),
		"correct": r.post("/got", `{"light": "D65", "pile": [{"tube": "ultramarine-blue", "parts": 3}], "colour": "lab(50 0 -20)", "palette": ["titanium-white"]}`),
		"curve":   r.post("/curve", strings.Replace(marshScene, `"limits": {}`, `"limits": {"only": ["titanium-white", "ivory-black", "yellow-ochre"]}`, 1)),
		"compare": r.post("/compare", strings.TrimSuffix(marshScene, "}")+`, "palettes": [{"name": "a", "tubes": ["titanium-white"]}, {"name": "b", "tubes": ["ivory-black"]}]}`),
		"suggest": r.post("/suggest", fmt.Sprintf(`{"photos": [{"name": "a", "file": "a.png", "id": %q}], "targets": 3}`, kept.ID)),
		"wrong":   r.post("/mix", `{"light": "D65", "colour": "lab(45 3 8)", "palette": ["no-such-tube"]}`),
		"sheet":   chart,
	} {
		plain, want := r.raw(question)
		stream := strings.Replace(question, "\r\n\r\n", "\r\nAccept: text/event-stream\r\n\r\n", 1)
		if got, text := r.raw(stream); got.Header.Get("Content-Type") != plain.Header.Get("Content-Type") || name != "sheet" && text != want {
			t.Errorf("%s without a wait: %s %.200s", name, got.Header.Get("Content-Type"), text)
		}
		release := busy(t, r.server.queue)
		done := make(chan string)
		for _, q := range []string{question, stream} {
			go func() { _, text := r.raw(q); done <- text }()
		}
		settle(t, r.server.queue, computations, 2)
		release()
		for range 2 {
			text := <-done
			kind, result := "result", ""
			if plain.StatusCode != http.StatusOK {
				kind = "trouble"
			}
			if !strings.HasPrefix(text, "event: queue\ndata: {\"before\":") {
				if name != "sheet" && text != want {
					t.Errorf("%s: %.200s, want %.200s", name, text, want)
				}
				continue
			}
			if _, after, ok := strings.Cut(text, "event: turn\ndata: {}\n\nevent: "+kind+"\ndata: "); ok {
				result = strings.TrimSuffix(after, "\n\n")
			}
			switch {
			case kind == "trouble":
				var line string
				if json.Unmarshal([]byte(result), &line) != nil || line != want {
					t.Errorf("%s: %.300s", name, text)
				}
			case name == "sheet":
				var got struct{ Data string }
				_ = json.Unmarshal([]byte(result), &got)
				if pdf, err := base64.StdEncoding.DecodeString(got.Data); err != nil || !strings.HasPrefix(string(pdf), "%PDF-") {
					t.Errorf("%s: %.300s", name, text)
				}
			case result != want:
				t.Errorf("%s: %.300s\nwant %.300s", name, text, want)
			}
		}
	}
}
