package page

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"net"
	"net/http"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/bounded"
	"fewtubes/gamut/colour"
)

// leaving is a page whose every answer can be timed from its asker's leaving.
type leaving struct {
	t      *testing.T
	server *Server
	url    string
	begun  chan struct{} // a handler began
	ended  chan struct{} // a handler returned
}

func newLeaving(t *testing.T) *leaving {
	server, listener := unserved(t)
	l := &leaving{t: t, server: server, url: "http://" + listener.Addr().String(), begun: make(chan struct{}, 1), ended: make(chan struct{}, 1)}
	handler := l.server.Handler()
	ctx, stop := context.WithCancel(context.Background())
	stopped := make(chan error, 1)
	go func() {
		stopped <- l.server.serve(ctx, listener, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			l.begun <- struct{}{}
			handler.ServeHTTP(w, r)
			l.ended <- struct{}{}
		}))
	}()
	t.Cleanup(func() { stop(); <-stopped })
	return l
}

// ask sends a question and returns when it is answered or given up, and closes
// the connection then.
func (l *leaving) ask(ctx context.Context, q question) error {
	r, err := http.NewRequestWithContext(ctx, q.method, l.url+q.path, strings.NewReader(q.body))
	if err != nil {
		return err
	}
	r.Close = true
	if q.method == http.MethodPost {
		r.Header.Set("Origin", l.url)
	}
	got, err := http.DefaultClient.Do(r)
	if err != nil {
		return err
	}
	defer got.Body.Close()
	text, err := io.ReadAll(got.Body)
	if err == nil && got.StatusCode != http.StatusOK {
		l.t.Errorf("%s: %d %.200q", q.kind, got.StatusCode, text)
	}
	return err
}

// whole is how long a question takes that nobody leaves.
func (l *leaving) whole(q question) time.Duration {
	start := time.Now()
	if err := l.ask(context.Background(), q); err != nil {
		l.t.Errorf("%s: %v", q.kind, err)
	}
	<-l.begun
	<-l.ended
	settle(l.t, l.server.queue, 0, 0)
	return time.Since(start)
}

// gone leaves a question after a time: how long after that its handler returned
// and how long its work went on.
func (l *leaving) gone(q question, after time.Duration) (handler, work moment) {
	ctx, cancel := context.WithCancel(context.Background())
	asked := make(chan struct{})
	go func() { defer close(asked); _ = l.ask(ctx, q) }()
	<-l.begun
	time.Sleep(after)
	start, spent := time.Now(), bounded.ProcessorTime()
	since := func() moment { return moment{time.Since(start), bounded.ProcessorTime() - spent} }
	cancel()
	<-l.ended
	handler = since()
	settle(l.t, l.server.queue, 0, 0)
	work = since()
	<-asked
	return handler, work
}

// leavable are the longest questions of each kind, new each time n is.
var leavable = []struct {
	kind   string
	breaks bool // it can be broken off
	ask    func(l *leaving, n int) question
}{
	{"answer, 6 colours", true, func(l *leaving, n int) question { return onScene("/answer", marshColours[:6], n, nil) }},
	{"answer, 15 colours", true, func(l *leaving, n int) question { return onScene("/answer", marshColours, n, nil) }},
	{"answer, 500 colours", true, func(l *leaving, n int) question { return onScene("/answer", manyColours(500), n, nil) }},
	{"check of 13 tubes", true, func(l *leaving, n int) question {
		return onScene("/answer", marshColours, n, map[string]any{"palette": wideBox[:13]})
	}},
	{"price curve", true, func(l *leaving, n int) question { return onScene("/curve", marshColours[:6], n, nil) }},
	{"compare six palettes", true, func(l *leaving, n int) question {
		var all []namedPalette
		for i := range mostCompared {
			all = append(all, namedPalette{fmt.Sprint(i), wideBox[i : i+7]})
		}
		return onScene("/compare", marshColours, n, map[string]any{"palettes": all})
	}},
	{"palettes beside", true, func(l *leaving, n int) question {
		return onScene("/beside", marshColours, n, map[string]any{"columns": []string{"no cadmium", "no toxic pigment", "one tube fewer"}})
	}},
	{"mixing table: recipes", true, func(l *leaving, n int) question {
		return posted("/mix", tableRequest{Light: "D65", Colour: jittered(marshColours[2], n), Palette: wideBox})
	}},
	{"mixing table: pile", true, func(l *leaving, n int) question {
		return posted("/pile", tableRequest{Light: "A", Pile: threeToOne})
	}},
	{"mixing table: correct", true, func(l *leaving, n int) question {
		return posted("/got", tableRequest{Light: "D50", Pile: threeToOne, Colour: jittered(marshColours[2], n), Palette: wideBox})
	}},
	{"practice sheet", true, func(l *leaving, n int) question {
		return question{"", "GET", "/chart.pdf?paper=A4&palette=" + strings.Join(wideBox[:mostCharted], ","), "", nil, nil}
	}},
	{"JPEG, 24 million pixels", true, func(l *leaving, n int) question { return uploaded(largeJPEG(), n) }},
	{"PNG, 12 million pixels", true, func(l *leaving, n int) question { return uploaded(largePNG(), n) }},
	{"HEIC, 12 million pixels", false, func(l *leaving, n int) question { return uploaded(large("heic"), n) }},
	{"WebP, 12 million pixels", false, func(l *leaving, n int) question { return uploaded(large("webp"), n) }},
	{"values of a photograph", true, func(l *leaving, n int) question {
		return question{"", "GET", "/photo/" + l.photo(n) + "?greys", "", nil, nil}
	}},
	{"a photograph painted", true, func(l *leaving, n int) question {
		return question{"", "GET", "/painted/" + l.photo(n) + "?w=1600&view=painted&palette=" + strings.Join(wideBox[:8], ","), "", nil, nil}
	}},
	{"colours suggested", true, func(l *leaving, n int) question {
		return posted("/suggest", map[string]any{"photos": []statePhoto{{scene.Photo{Name: "a", File: "a.jpg"}, l.photo(n)}}, "targets": mostSuggested, "fitValues": true})
	}},
}

// photo is one the page holds, new each time n is.
func (l *leaving) photo(n int) string {
	data := append(slices.Clone(wideJPEG()), fmt.Sprint(n)...)
	id := fmt.Sprint(n)
	d, err := newDropped(context.Background(), id, "wide.jpg", data)
	if err != nil {
		l.t.Fatal(err)
	}
	l.server.photos.put(d)
	return id
}

var wideJPEG = sync.OnceValue(func() []byte {
	data, err := os.ReadFile("../../../../testdata/salt-marsh/wide.jpg")
	if err != nil {
		panic(err)
	}
	return data
})

var wideBox = []string{"titanium-white", "ivory-black", "yellow-ochre", "ultramarine-blue", "burnt-sienna", "raw-umber", "burnt-umber", "raw-sienna",
	"cadmium-yellow-light", "cadmium-red-medium", "quinacridone-magenta", "cobalt-blue", "prussian-blue", "viridian", "phthalo-green-blue-shade",
	"pyrrole-orange", "naples-yellow", "cerulean-blue", "chromium-oxide-green", "dioxazine-violet"}

func onScene(path string, colours []string, n int, more map[string]any) question {
	s := scene.Scene{Title: "Ebb", Tolerance: 3, Light: "D65"}
	for i, c := range colours {
		s.Targets = append(s.Targets, scene.Target{Name: fmt.Sprintf("note %d", i+1), Colour: jittered(c, n), Area: 1})
	}
	body := map[string]any{"scene": newState(&s)}
	for key, v := range more {
		body[key] = v
	}
	return posted(path, body)
}

func posted(path string, body any) question {
	return question{"", "POST", path, text(body), nil, nil}
}

func uploaded(data string, n int) question {
	return question{"", "POST", "/photo?name=large", data + fmt.Sprint(n), nil, nil}
}

// jittered is a colour so little off that the answer is as hard and not known.
func jittered(notation string, n int) string {
	c, err := colour.Parse(notation)
	if err != nil {
		panic(err)
	}
	return fmt.Sprintf("lab(%.2f %.2f %.2f)", c.L+0.01*float64(n), c.A, c.B)
}

// manyColours fill the middle of what paint reaches.
func manyColours(n int) (out []string) {
	for i := range n {
		out = append(out, fmt.Sprintf("lab(%d %d %d)", 35+i%7*6, i/7%9*5-20, i/63*5-20))
	}
	return out
}

var largeJPEG = sync.OnceValue(func() string {
	img := image.NewYCbCr(image.Rect(0, 0, 6000, 4000), image.YCbCrSubsampleRatio420)
	for i := range img.Y {
		img.Y[i] = uint8(i*7 + i/6000*3)
	}
	for i := range img.Cb {
		img.Cb[i], img.Cr[i] = uint8(i/9), uint8(i/7)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 85}); err != nil {
		panic(err)
	}
	return b.String()
})

var largePNG = sync.OnceValue(func() string {
	img := image.NewNRGBA(image.Rect(0, 0, 4000, 3000))
	for i := range img.Pix {
		img.Pix[i] = uint8(i / 1000)
	}
	var b bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&b, img); err != nil {
		panic(err)
	}
	return b.String()
})

// large is a gradient of 12 million pixels in a format that Go does not write.
func large(format string) string {
	data, err := os.ReadFile("testdata/gradient." + format)
	if err != nil {
		panic(err)
	}
	return string(data)
}

// Work that is left stops within 200 ms, whenever in its course that is. Two
// decoders cannot be broken off: their requests end all the same.
func TestLeftWorkStops(t *testing.T) {
	l := newLeaving(t)
	moments, long := []float64{0.5}, os.Getenv("FEWTUBES_SOAK") != ""
	if long {
		moments = []float64{0.02, 0.15, 0.3, 0.5, 0.7, 0.85, 0.97}
	}
	n := 0
	for _, c := range leavable {
		if !long && c.kind == "answer, 500 colours" {
			continue
		}
		then := pressed()
		whole := l.whole(c.ask(l, n))
		var handler, work moment
		for _, share := range moments {
			n++
			h, w := l.gone(c.ask(l, n), time.Duration(share*float64(whole)))
			handler, work = handler.most(h), work.most(w)
		}
		n++
		waited := then.since()
		t.Logf("%-24s whole %8s  left: request ends within %8s (processor %8s), work within %8s (%8s), waited %2.0f %%", c.kind,
			ms(whole), ms(handler.clock), ms(handler.processor), ms(work.clock), ms(work.processor), 100*waited)
		lateness := []moment{handler}
		if c.breaks {
			lateness = append(lateness, work)
		}
		for _, d := range lateness {
			if waited <= atRest && d.clock > mostLate || d.processor > 2*mostLate {
				t.Errorf("%s went on for %v, %v of processor time", c.kind, d.clock, d.processor)
			}
		}
	}
}

func ms(d time.Duration) string { return d.Round(time.Millisecond / 10).String() }

// most is the larger of each.
func (m moment) most(other moment) moment {
	return moment{max(m.clock, other.clock), max(m.processor, other.processor)}
}

// Whatever waits for its turn leaves the line at once when its asker does.
func TestLeftWhileWaiting(t *testing.T) {
	l := newLeaving(t)
	var all []func()
	for range computations {
		release, err := l.server.queue.enter(context.Background(), nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, release)
	}
	for i, c := range leavable {
		if strings.HasPrefix(c.kind, "answer, 500") {
			continue
		}
		q := c.ask(l, i)
		then := pressed()
		ctx, cancel := context.WithCancel(context.Background())
		asked := make(chan struct{})
		go func() { defer close(asked); _ = l.ask(ctx, q) }()
		<-l.begun
		settle(t, l.server.queue, computations, 1)
		start := time.Now()
		cancel()
		<-l.ended
		d := time.Since(start)
		settle(t, l.server.queue, computations, 0)
		<-asked
		if d > mostLate && then.since() <= atRest || d > 5*time.Second {
			t.Errorf("%s: the line was left after %v", c.kind, d)
		}
	}
	for _, release := range all {
		release()
	}
	if l.server.intake.held != 0 {
		t.Errorf("%d bytes of bodies are still held", l.server.intake.held)
	}
}

// A photograph whose sender goes in the middle of it is let go at once, and so is
// its room; who finds no room is told so before the body is in.
func TestLeftWhileComingIn(t *testing.T) {
	r := run(t)
	conn, err := net.Dial("tcp", r.addr)
	if err != nil {
		t.Fatal(err)
	}
	fmt.Fprintf(conn, "POST /photo HTTP/1.1\r\nHost: %s\r\nOrigin: http://%s\r\nContent-Length: %d\r\n\r\n", r.addr, r.addr, mostUpload)
	if _, err := conn.Write(make([]byte, 5<<20)); err != nil {
		t.Fatal(err)
	}
	held := func() int {
		r.server.intake.mu.Lock()
		defer r.server.intake.mu.Unlock()
		return r.server.intake.held
	}
	for end := time.Now().Add(10 * time.Second); held() < 5<<20; time.Sleep(time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("%d bytes held", held())
		}
	}
	then, start := pressed(), time.Now()
	conn.Close()
	for held() > 0 && time.Since(start) < 10*time.Second {
		time.Sleep(time.Millisecond)
	}
	if d := time.Since(start); d > mostLate && then.since() <= atRest || held() > 0 {
		t.Errorf("%d bytes are held %v after their sender left", held(), d)
	}

	r.server.intake.claim(mostIncoming - 1<<20)
	got, text := r.raw(r.post("/photo?name=a", strings.Repeat("x", 2<<20)))
	if got.StatusCode != http.StatusServiceUnavailable || got.Header.Get("Retry-After") == "" {
		t.Errorf("without room: %d %s", got.StatusCode, text)
	}
	if n := held(); n != mostIncoming-1<<20 {
		t.Errorf("%d bytes held", n)
	}
}
