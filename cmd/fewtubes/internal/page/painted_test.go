package page

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"image"
	"image/jpeg"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"testing"
	"time"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/repaint"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/grid"
	"fewtubes/gamut/set"

	xdraw "golang.org/x/image/draw"
)

var marshKit = []string{"hansa-yellow-medium", "phthalo-blue-red-shade", "quinacridone-magenta", "titanium-white", "transparent-yellow-oxide"}

// upload puts a file before a server and gives its address.
func upload(t testing.TB, server *httptest.Server, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	status, _, text := send(t, server, "POST", "/photo?name=marsh.jpg", data, nil)
	var got struct{ ID string }
	if err := json.Unmarshal(text, &got); status != 200 || err != nil {
		t.Fatalf("%d %s", status, text)
	}
	return got.ID
}

// films are the paints of tubes and how they are seen where nothing is said.
func films(t testing.TB, ids []string) ([]film.Paint, gamut.Options) {
	t.Helper()
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	tubes, err := all.GetEach(ids)
	if err != nil {
		t.Fatal(err)
	}
	var out []film.Paint
	for _, tube := range tubes {
		out = append(out, tube.Paint)
	}
	return out, gamut.Options{Surface: all.Surface(film.AsDried), Light: colour.D65()}
}

// At the size it is held the picture is the very one that repaint paints of the same
// pixels, and each view has the size asked for.
func TestPaintedIsRepainted(t *testing.T) {
	server, s, _ := boxed(t)
	id := upload(t, server, "../../../../testdata/salt-marsh/close.jpg")
	d, err := s.photos.get(id)
	if err != nil {
		t.Fatal(err)
	}
	paints, sight := films(t, marshKit)
	mixer, err := gamut.NewMixer(paints, sight)
	if err != nil {
		t.Fatal(err)
	}
	img, err := d.picture.image(t.Context(), coded)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := photo.WholeOf(img)
	if err != nil {
		t.Fatal(err)
	}
	p := repaint.Photograph{Whole: whole}
	region := grid.NewRegion()
	if err = p.Look(t.Context()); err == nil {
		region, err = p.Region(t.Context())
	}
	if err != nil {
		t.Fatal(err)
	}
	painting, err := p.Paint(t.Context(), mixer, region)
	if err != nil {
		t.Fatal(err)
	}
	for view, draw := range map[string]func() (*image.RGBA, error){
		"painted": func() (*image.RGBA, error) { return painting.Image(t.Context()) },
		"misses":  func() (*image.RGBA, error) { return painting.Hatched(t.Context(), 3) },
		"greys":   func() (*image.RGBA, error) { return painting.Greys(t.Context()) },
	} {
		img, err := draw()
		if err != nil {
			t.Fatal(err)
		}
		want, err := repaint.JPEG(t.Context(), img)
		if err != nil {
			t.Fatal(err)
		}
		for range 2 { // the second time it is kept
			status, head, got := send(t, server, "GET", "/painted/"+id+"?w=5000&view="+view+"&palette="+strings.Join(marshKit, ","), nil, nil)
			if status != 200 || head.Get("Content-Type") != "image/jpeg" || !bytes.Equal(got, want) {
				t.Errorf("%s: %d, %d bytes for %d", view, status, len(got), len(want))
			}
		}
		status, _, got := send(t, server, "GET", "/painted/"+id+"?w=310&view="+view+"&palette="+strings.Join(marshKit, ","), nil, nil)
		small, err := jpeg.DecodeConfig(bytes.NewReader(got))
		if err != nil || small.Width != 320 || small.Height != (320*d.picture.h+d.picture.w/2)/d.picture.w {
			t.Errorf("%s: %d %v %v", view, status, small, err)
		}
	}
}

// Whatever stands in a painted pixel is, but for the coding, the mix nearest to the
// photograph's: a patch of one colour, sought by the mixer itself.
func TestPaintedPatchIsTheNearestMix(t *testing.T) {
	paints, sight := films(t, marshKit)
	mixer, err := gamut.NewMixer(paints, sight)
	if err != nil {
		t.Fatal(err)
	}
	seen := [3]uint8{60, 110, 160}
	img := image.NewRGBA(image.Rect(0, 0, 32, 32))
	for i := 0; i < len(img.Pix); i += 4 {
		copy(img.Pix[i:], []uint8{seen[0], seen[1], seen[2], 255})
	}
	whole, err := photo.WholeOf(img)
	if err != nil {
		t.Fatal(err)
	}
	picture, err := whole.Averaged(t.Context(), 32)
	if err != nil {
		t.Fatal(err)
	}
	s := &Server{}
	d := &dropped{ID: "a", picture: newStill(picture)}
	at := func(view string) colour.Lab {
		t.Helper()
		data, err := s.paint(t.Context(), d, paintedRequest{looking: looking{photo: "a", width: 32}, view: view, tolerance: 3}, paints, sight)
		if err != nil {
			t.Fatal(err)
		}
		got, err := jpeg.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		r, g, b, _ := got.At(16, 16).RGBA()
		return colour.SRGB{R: float64(r) / 65535, G: float64(g) / 65535, B: float64(b) / 65535}.Linear().Lab()
	}
	want := mixer.Closest(whole.Light(seen[0], seen[1], seen[2]).Lab(), set.Full(mixer.Len()), gamut.Verdict).Lab
	const codes = 1.5 // CIEDE2000: 8 bits, and JPEG's own rounding
	if de := colour.DE2000(at("painted"), want); de > codes {
		t.Errorf("%v, and the nearest mix is %v: ΔE00 %.2f", at("painted"), want, de)
	}
	if de := colour.DE2000(at("greys"), colour.Lab{L: want.L}); de > codes {
		t.Errorf("in greys %v, of the value %.1f: ΔE00 %.2f", at("greys"), want.L, de)
	}
}

func TestPaintedIsBounded(t *testing.T) {
	server, _, _ := boxed(t)
	id := upload(t, server, "../photo/testdata/srgb.png")
	good := "?w=320&view=painted&palette=titanium-white,ivory-black"
	if status, _, text := send(t, server, "GET", "/painted/"+id+good, nil, nil); status != 200 {
		t.Fatalf("%d %s", status, text)
	}
	for _, path := range []string{
		"gone" + good, id + "?w=320&view=painted", id + "?w=320&view=else&palette=titanium-white", id + "?w=0&view=painted&palette=titanium-white",
		id + "?w=1e3&view=painted&palette=titanium-white", id + "?w=-5&view=painted&palette=titanium-white", id + "?w=9999999&view=painted&palette=titanium-white",
		id + good + "&tolerance=NaN", id + good + "&tolerance=0", id + good + "&paints=99", id + good + "&light=F4", id + good + "&surface=wet",
		id + good + `&values={"From":[0,1,2]}`, id + good + `&values={"From":[9,1,2],"To":[0,50,100]}`, id + good + "&values=[",
		id + "?w=320&view=painted&palette=" + strings.Repeat("titanium-white,", mostEntries+2), id + "?w=320&view=painted&palette=no-such-tube",
	} {
		status, _, text := send(t, server, "GET", "/painted/"+strings.ReplaceAll(path, `"`, "%22"), nil, nil)
		if status < 400 || status > 499 || len(text) == 0 || bytes.ContainsAny(text, "\n") {
			t.Errorf("%.80s: %d %.200q", path, status, text)
		}
	}
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, tube := range builtin.Tubes() {
		all = append(all, tube.ID)
	}
	if status, _, text := send(t, server, "GET", "/painted/"+id+"?w=320&view=painted&palette="+strings.Join(all[:mostPaints+1], ","), nil, nil); status != 400 {
		t.Errorf("%d %s", status, text)
	}
}

// Who changes the palette before a picture is painted gives the place up at once,
// and little is kept of what is painted.
func TestPaintedIsLeft(t *testing.T) {
	server, s, _ := boxed(t)
	id := upload(t, server, "../../../../testdata/salt-marsh/wide.jpg")
	for n := range 3 {
		ctx, cancel := context.WithTimeout(t.Context(), time.Duration(n)*60*time.Millisecond)
		r, err := http.NewRequestWithContext(ctx, http.MethodGet, server.URL+"/painted/"+id+"?w=1600&view=painted&palette="+strings.Join(marshKit[n:], ","), nil)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := http.DefaultClient.Do(r); err == nil {
			got.Body.Close()
		} else if !errors.Is(err, context.DeadlineExceeded) {
			t.Error(err)
		}
		cancel()
	}
	for end := time.Now().Add(20 * time.Second); ; time.Sleep(10 * time.Millisecond) {
		if running, waiting := s.queue.counts(); running+waiting == 0 {
			break
		}
		if time.Now().After(end) {
			t.Fatal("the place was not given up")
		}
	}
	for n := range 6 {
		path := "/painted/" + id + "?view=painted&palette=titanium-white,ivory-black&w=" + string(rune('1'+n)) + "60"
		if status, _, text := send(t, server, "GET", path, nil, nil); status != 200 {
			t.Fatalf("%d %s", status, text)
		}
	}
	if n := len(s.paintings.looked); n > mostLooked {
		t.Errorf("%d photographs are kept looked at", n)
	}
}

// BenchmarkChangedPalette is the marsh in 12 million pixels painted with another
// palette at the largest size shown: under 1 s is the aim.
func BenchmarkChangedPalette(b *testing.B) {
	data, err := os.ReadFile("../../../../testdata/salt-marsh/wide.jpg")
	if err != nil {
		b.Fatal(err)
	}
	marsh, err := jpeg.Decode(bytes.NewReader(data))
	if err != nil {
		b.Fatal(err)
	}
	large := image.NewRGBA(image.Rect(0, 0, 4243, 2828))
	xdraw.BiLinear.Scale(large, large.Bounds(), marsh, marsh.Bounds(), xdraw.Src, nil)
	var coded bytes.Buffer
	if err := jpeg.Encode(&coded, large, nil); err != nil {
		b.Fatal(err)
	}
	d, err := newDropped(b.Context(), "large", "large.jpg", coded.Bytes())
	if err != nil {
		b.Fatal(err)
	}
	s := &Server{}
	q := paintedRequest{looking: looking{photo: "large", width: d.picture.w}, view: "painted", tolerance: 3}
	ask := func(n int) {
		paints, sight := films(b, marshKit[n%3:])
		if _, err := s.paint(b.Context(), d, q, paints, sight); err != nil {
			b.Fatal(err)
		}
	}
	ask(0)
	for n := 1; b.Loop(); n++ {
		ask(n)
	}
}
