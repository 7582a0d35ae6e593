package repaint

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
)

func mixer(t testing.TB, ids ...string) *gamut.Mixer {
	t.Helper()
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	tubes, err := all.GetEach(ids)
	if err != nil {
		t.Fatal(err)
	}
	var paints []film.Paint
	for _, tube := range tubes {
		paints = append(paints, tube.Paint)
	}
	m, err := gamut.NewMixer(paints, gamut.Options{Surface: all.Surface(film.AsDried)})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

var kit = []string{"titanium-white", "yellow-ochre", "ultramarine-blue", "burnt-sienna", "hansa-yellow-medium", "quinacridone-magenta"}

func repainted(t testing.TB, m *gamut.Mixer, p *Photograph) *Painting {
	t.Helper()
	if err := p.Look(t.Context()); err != nil {
		t.Fatal(err)
	}
	region, err := p.Region(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	painting, err := p.Paint(t.Context(), m, region)
	if err != nil {
		t.Fatal(err)
	}
	return painting
}

func drawing(t testing.TB, p *Painting) *image.RGBA {
	t.Helper()
	img, err := p.Image(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return img
}

func whole(t testing.TB, img image.Image) *photo.Whole {
	t.Helper()
	w, err := photo.WholeOf(img)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func labAt(img *image.RGBA, x, y int) colour.Lab {
	c := img.RGBAAt(x, y)
	return colour.SRGB{R: float64(c.R) / 255, G: float64(c.G) / 255, B: float64(c.B) / 255}.Lab()
}

// Against a search for each of 2,000 pixels of the demo's pictures, and of photographs
// that lie beside the house.
func TestPixelsAreTheNearestMixes(t *testing.T) {
	const root = "../../../../"
	files, err := filepath.Glob(root + "testdata/salt-marsh/*e.jpg")
	if err != nil || len(files) != 2 {
		t.Fatal(files, err)
	}
	shared, err := filepath.Glob(filepath.Join(cmp.Or(os.Getenv("FEWTUBES_SHARED"), root+"../shared"), "photos/*.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range append(files, shared...) {
		w, err := photo.OpenWhole(t.Context(), file)
		if err != nil {
			t.Fatal(err)
		}
		m := mixer(t, kit...)
		p := repainted(t, m, &Photograph{Whole: w})
		read, row := w.Rows(), make([]uint8, 4*w.W)
		rng := rand.New(rand.NewPCG(23, 2))
		var apart, behind, shares []float64
		for range 2000 {
			x, y := rng.IntN(w.W), rng.IntN(w.H)
			read(y, row)
			c := w.Light(row[4*x], row[4*x+1], row[4*x+2]).Lab()
			best := m.Closest(c, set.Full(m.Len()), gamut.Search)
			i := int(p.of.index[codeOf(row[4*x:])])
			got := p.lab(i)
			apart = append(apart, colour.DE2000(got, best.Lab))
			behind = append(behind, math.Abs(colour.DE2000(got, c)-best.DE))
			mix, _ := p.grid.Mix(c)
			shares = append(shares, colour.DE2000(got, m.Evaluate(mix.Paints, mix.Shares)))
		}
		for _, list := range [][]float64{apart, behind, shares} {
			slices.Sort(list)
		}
		t.Logf("%s: from the nearest mix: median %.3f, 95 %% %.2f; distance: 95 %% %.2f, most %.2f; from shares: 98 %% %.2f; %d nodes",
			filepath.Base(file), apart[1000], apart[1900], behind[1900], behind[1999], shares[1960], p.grid.Nodes())
		if apart[1000] > 0.05 || apart[1900] > 0.4 || behind[1900] > 0.4 || behind[1999] > 1 || shares[1960] > 0.5 {
			t.Errorf("%s: too far", file)
		}
	}
}

// A sky that pales downwards and ramps of greys and greens show no step of more than
// twice the source's largest, before colours are coded in 8 bits; one code is up to a
// unit of CIEDE2000 among greys.
func TestNoBanding(t *testing.T) {
	const n = 600
	top, foot := colour.Lab{L: 52, A: -4, B: -34}, colour.Lab{L: 93, A: 1, B: 6}
	for name, at := range map[string]func(s float64) colour.Lab{
		"sky":   func(s float64) colour.Lab { return mid(top, foot, s) },
		"greys": func(s float64) colour.Lab { return colour.Lab{L: 5 + 92*s} },
		"grass": func(s float64) colour.Lab {
			return mid(colour.Lab{L: 15, A: -6, B: 10}, colour.Lab{L: 80, A: -22, B: 50}, s)
		},
	} {
		img := image.NewRGBA(image.Rect(0, 0, n, 1))
		for x := range n {
			rgb := at(float64(x) / (n - 1)).SRGB().RGB8()
			img.SetRGBA(x, 0, color.RGBA{rgb[0], rgb[1], rgb[2], 255})
		}
		p := repainted(t, mixer(t, kit...), &Photograph{Whole: whole(t, img)})
		got := drawing(t, p)
		paintedAt := func(x int) colour.Lab { return p.lab(int(p.of.index[codeOf(img.Pix[4*x:])])) }
		source, painted, coded := 0.0, 0.0, 0.0
		for x := 1; x < n; x++ {
			source = max(source, colour.DE2000(labAt(img, x-1, 0), labAt(img, x, 0)))
			painted = max(painted, colour.DE2000(paintedAt(x-1), paintedAt(x)))
			coded = max(coded, colour.DE2000(labAt(got, x-1, 0), labAt(got, x, 0)))
		}
		t.Logf("%s: largest step %.2f, coded %.2f, source's %.2f", name, painted, coded, source)
		if painted > 2*source || coded > 2*source+1 {
			t.Errorf("%s: a step of %.2f, the source's largest is %.2f", name, painted, source)
		}
	}
}

func mid(a, b colour.Lab, s float64) colour.Lab {
	on := func(a, b float64) float64 { return a + float64(s*(b-a)) }
	return colour.Lab{L: on(a.L, b.L), A: on(a.A, b.A), B: on(a.B, b.B)}
}

// noise is a picture of many colours, some of them transparent.
func noise(w, h int) *image.NRGBA {
	rng := rand.New(rand.NewPCG(23, 3))
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	for i := range img.Pix {
		img.Pix[i] = uint8(rng.UintN(256))
		if i%4 == 3 && rng.IntN(3) > 0 {
			img.Pix[i] = 255
		}
	}
	return img
}

// What is measured is what plain counting finds, for any number of workers.
func TestMeasuresAreCounted(t *testing.T) {
	const w, h, tolerance = 40, 32, 3.0
	src := noise(w, h)
	bands := []scene.PlaneShape{}
	for _, text := range []string{"sky=0:0.5", "foreground=0.5:1"} {
		shape, err := scene.ParsePlaneShape(text)
		if err != nil {
			t.Fatal(err)
		}
		bands = append(bands, shape)
	}
	m, all := mixer(t, kit...), mixer(t, append([]string{"phthalo-green-blue-shade", "phthalo-blue-green-shade", "pyrrole-red"}, kit...)...)
	var first Measures
	var image1 []uint8
	for _, workers := range []int{1, 3} {
		old := runtime.GOMAXPROCS(workers)
		defer runtime.GOMAXPROCS(old)
		p := repainted(t, m, &Photograph{Whole: whole(t, src), Planes: bands, Crop: []float64{0, 0.25, 1, 1}})
		reached, err := p.Reach(t.Context(), all, tolerance)
		if err != nil {
			t.Fatal(err)
		}
		got, err := p.Measure(t.Context(), tolerance, reached)
		if err != nil {
			t.Fatal(err)
		}
		img := drawing(t, p)
		if workers == 1 {
			first, image1 = got, img.Pix
			continue
		}
		if !bytes.Equal(image1, img.Pix) {
			t.Error("the picture depends on the number of workers")
		}
		if got.Within != first.Within || got.DE != first.DE || got.Ceiling != first.Ceiling || !slices.Equal(got.Planes, first.Planes) || !slices.Equal(got.Misses, first.Misses) {
			t.Errorf("measures depend on the number of workers: %v, %v", got, first)
		}
		pixels, inside := 0, 0
		for y := h / 4; y < h; y++ {
			for x := range w {
				c := src.NRGBAAt(x, y)
				if c.A < 128 {
					continue
				}
				lab := colour.SRGB{R: float64(c.R) / 255, G: float64(c.G) / 255, B: float64(c.B) / 255}.Lab()
				pixels++
				if m.Closest(lab, set.Full(m.Len()), gamut.Search).DE <= tolerance {
					inside++
				}
			}
		}
		if want := float64(inside) / float64(pixels); math.Abs(got.Within-want) > 0.01 {
			t.Errorf("within %.4f, counted by searches %.4f", got.Within, want)
		}
		if got.Ceiling < got.Within || len(got.Planes) != 2 || len(got.Misses) == 0 {
			t.Errorf("%+v", got)
		}
		if sum := float64(got.Planes[0].Area*got.Planes[0].Within) + float64(got.Planes[1].Area*got.Planes[1].Within); math.Abs(sum-got.Within) > 1e-9 {
			t.Errorf("planes sum to %v, all is %v", sum, got.Within)
		}
	}
}

// A mass out of reach is hatched, specks of the same colour are not.
func TestSpecksAreNotHatched(t *testing.T) {
	const w, h = 400, 200
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{128, 128, 128, 255}
			if x >= w/2 || x%7 == 0 && y%7 == 0 {
				c = color.RGBA{255, 0, 160, 255}
			}
			img.SetRGBA(x, y, c)
		}
	}
	p := repainted(t, mixer(t, kit[:4]...), &Photograph{Whole: whole(t, img)})
	got, err := p.Misses(t.Context(), 3)
	if err != nil {
		t.Fatal(err)
	}
	var black [2]int
	for y := range h {
		for x := range w {
			if got.RGBAAt(x, y) == (color.RGBA{0, 0, 0, 255}) {
				black[2*x/w]++
			}
		}
	}
	if black[0] > 0 || black[1] < w*h/10 {
		t.Errorf("hatched pixels: %d of specks, %d of a mass", black[0], black[1])
	}
}

// A file says that it is sRGB, and holds the picture.
func TestFilesAreTagged(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 32, 16))
	for i := range img.Pix {
		img.Pix[i] = 200
		if i%4 == 3 {
			img.Pix[i] = 255
		}
	}
	data, err := PNG(t.Context(), img)
	if err != nil {
		t.Fatal(err)
	}
	if string(data[37:41]) != "sRGB" {
		t.Errorf("%q", data[30:50])
	}
	if _, err := png.Decode(bytes.NewReader(data)); err != nil {
		t.Error(err)
	}
	if data, err = JPEG(t.Context(), img); err != nil {
		t.Fatal(err)
	}
	if _, err := jpeg.Decode(bytes.NewReader(data)); err != nil || !bytes.HasPrefix(data, []byte("\xff\xd8\xff\xe1\x00\x34Exif")) {
		t.Errorf("%v, %q", err, data[:20])
	}
	p, err := photo.Decode("x", data, 0)
	if err != nil || len(p.Notes) > 0 || p.W != 32 {
		t.Errorf("%v, %v", err, p)
	}
	ended, end := context.WithCancel(t.Context())
	end()
	if _, err := JPEG(ended, img); err != nil && !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}
