package patches

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/gamut/bounded"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

const (
	columns, rows, side, gap = 8, 5, 60, 12 // of a photograph of patches, pixels
	known                    = 24           // of its patches, the first six greys
)

// reflectances are those of forty patches: six greys, eighteen printed colours, here of mixtures, and
// sixteen swatches.
func reflectances(t *testing.T) (out []colour.Spectrum) {
	t.Helper()
	c, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range []float64{0.9, 0.59, 0.36, 0.2, 0.09, 0.035} {
		out = append(out, colour.Flat(r))
	}
	white := c.White()
	card := strings.Fields("cadmium-red-light hansa-yellow-medium phthalo-green-blue-shade ultramarine-blue quinacridone-magenta cerulean-blue-chromium burnt-sienna yellow-ochre dioxazine-violet")
	for _, parts := range []float64{1, 8} {
		for _, id := range card {
			tube, err := c.Get(id)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, tube.Paint.Tint(white, parts, film.Dry))
		}
	}
	pairs := strings.Fields("viridian cadmium-orange cobalt-blue raw-umber prussian-blue red-oxide chromium-oxide-green bismuth-yellow")
	for _, parts := range []float64{2, 9} {
		for _, id := range pairs {
			tube, err := c.Get(id)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, tube.Paint.Tint(white, parts, film.Dry))
		}
	}
	return out
}

// camera sees with three Gaussians 30 to 40 nm wide (an assumption), turned into sRGB by the
// three by three numbers that are best for the patches in daylight, as a camera's are.
type camera struct {
	light *colour.Light
	gains [3]float64
	noise float64
}

func (c *camera) raw(s *colour.Spectrum, light *colour.Light) (rgb [3]float64) {
	day := colour.D65()
	for k, peak := range []struct{ nm, width float64 }{{600, 38}, {540, 38}, {455, 30}} {
		sum := 0.0
		for b, r := range s {
			nm := float64(colour.StartNM + b*colour.StepNM)
			power := 1.0
			if y := day.Weights[1][b]; y > 1e-4 && nm >= 410 && nm <= 690 {
				power = light.Weights[1][b] / y
			}
			d := (nm - peak.nm) / peak.width
			v := math.Exp(-d*d/2) * power
			rgb[k] += v * r
			sum += v
		}
		rgb[k] /= sum // balanced for a perfect white, but for the gains
	}
	return rgb
}

// photograph lays the patches out and shows them to the camera, as a JPEG of 8 bits. patch may
// change a pixel of patch i.
func (c *camera) photograph(t *testing.T, patches []colour.Spectrum, touch func(i, x, y int, rgb *[3]float64)) *photo.Picture {
	t.Helper()
	day := colour.D65()
	var seenByDay []seen
	var targets [][3]float64
	for i := range patches {
		lin := day.Lab(&patches[i]).SRGB().Linear()
		seenByDay, targets = append(seenByDay, seen{rgb: c.raw(&patches[i], day)}), append(targets, [3]float64{lin.R, lin.G, lin.B})
	}
	own, ok := fitted(Matrix, seenByDay, targets)
	if !ok {
		t.Fatal("no camera")
	}
	rng := rand.New(rand.NewPCG(8, 15))
	img := image.NewNRGBA(image.Rect(0, 0, columns*(side+gap)+gap, rows*(side+gap)+gap))
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			rgb := [3]float64{0.5, 0.48, 0.45}
			column, row := (x-gap)/(side+gap), (y-gap)/(side+gap)
			i := row*columns + column
			inX, inY := x-gap-column*(side+gap), y-gap-row*(side+gap)
			if x >= gap && y >= gap && i < len(patches) && inX < side && inY < side {
				raw := c.raw(&patches[i], c.light)
				for k := range raw {
					raw[k] *= c.gains[k]
				}
				for k := range rgb {
					rgb[k] = 0
					for a := range raw {
						rgb[k] += own.by[k][a] * raw[a]
					}
				}
				if touch != nil {
					touch(i, inX, inY, &rgb)
				}
			}
			for k := range rgb {
				rgb[k] = max(rgb[k], 0) * (1 + c.noise*rng.NormFloat64())
			}
			code := colour.LinearRGB{R: rgb[0], G: rgb[1], B: rgb[2]}.SRGB().RGB8()
			img.SetNRGBA(x, y, color.NRGBA{code[0], code[1], code[2], 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 92}); err != nil {
		t.Fatal(err)
	}
	p, err := photo.Decode("sheet.jpg", b.Bytes(), 0)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// marksOf are the marks of the patches, the first so many known.
func marksOf(t *testing.T, patches []colour.Spectrum, knownOf ...int) []Mark {
	t.Helper()
	w, h := float64(columns*(side+gap)+gap), float64(rows*(side+gap)+gap)
	var b strings.Builder
	b.WriteString("sample,left,top,width,height,colour\n")
	for i := range patches {
		lab := ""
		if slices.Contains(knownOf, i) {
			c := colour.D65().Lab(&patches[i])
			lab = fmt.Sprintf("lab(%.2f %.2f %.2f)", c.L, c.A, c.B)
		}
		fmt.Fprintf(&b, "patch %d,%.5f,%.5f,%.5f,%.5f,%s\n", i, float64(gap+i%columns*(side+gap))/w, float64(gap+i/columns*(side+gap))/h, side/w, side/h, lab)
	}
	marks, err := ParseMarks("marks.csv", []byte(b.String()))
	if err != nil {
		t.Fatal(err)
	}
	return marks
}

func upTo(n int) (out []int) {
	for i := range n {
		out = append(out, i)
	}
	return out
}

var cast = map[string]camera{
	"daylight":        {colour.D65(), [3]float64{0.66, 0.66, 0.66}, 0.03},
	"warm daylight":   {colour.D50(), [3]float64{0.62, 0.58, 0.50}, 0.03},
	"lamp, with cast": {colour.A(), [3]float64{0.56, 0.44, 0.36}, 0.03},
}

// Three lights, with casts, exposures and noise: with a card of known colours the swatches come back
// within 2.0 in the middle, the known patches within 1.5; with greys alone the swatches within 5.
func TestPatchesComeBack(t *testing.T) {
	const swatches, card, leftOut, byGrey = 2.0, 1.5, 1.6, 5.0
	patches := reflectances(t)
	for light, c := range cast {
		p := c.photograph(t, patches, nil)
		for what, knownOf := range map[string][]int{"card": upTo(known), "greys": upTo(6), "one grey": {3}} {
			r, err := Read("sheet.jpg", "marks.csv", p, marksOf(t, patches, knownOf...))
			if err != nil || len(r.LeftOut) > 0 {
				t.Fatal(light, what, err, r)
			}
			var des []float64
			inside := 0
			for _, patch := range r.Patches {
				var i int
				fmt.Sscanf(patch.Name, "patch %d", &i)
				if i < known {
					continue
				}
				de := colour.DE2000(patch.Lab, colour.D65().Lab(&patches[i]))
				if des = append(des, de); de < 2*patch.Noise {
					inside++
				}
			}
			slices.Sort(des)
			middle := des[len(des)/2]
			if what == "card" { // by themselves, as a painter would look at it; r has them left out in turn
				var seenKnown []seen
				var targets [][3]float64
				for _, m := range marksOf(t, patches, knownOf...) {
					if m.Known == nil {
						continue
					}
					s, _, _ := look(p, &m)
					lin := m.Known.SRGB().Linear()
					seenKnown, targets = append(seenKnown, s), append(targets, [3]float64{lin.R, lin.G, lin.B})
				}
				own, _, _ := newCorrection(seenKnown, targets)
				var misses []float64
				for i, s := range seenKnown {
					misses = append(misses, colour.DE2000(own.lab(s.rgb), labOf(targets[i])))
				}
				slices.Sort(misses)
				fitted := misses[len(misses)/2]
				t.Logf("%s: the known patches %.2f, correction %d", light, fitted, r.Correction)
				if fitted > card || r.Median > leftOut {
					t.Errorf("%s: the known patches %.2f, left out %.2f", light, fitted, r.Median)
				}
			}
			t.Logf("%s, %s: swatches %.2f in the middle, %.2f at most; known %.2f, %.2f; %d of %d within twice the noise", light, what, middle, des[len(des)-1], r.Median, r.Most, inside, len(des))
			most := swatches
			if what != "card" {
				most = byGrey
			}
			if middle > most || (what == "card") == (r.Correction == Gains) || inside < len(des)*2/3 {
				t.Errorf("%s, %s: swatches %.2f, known patches %.2f", light, what, middle, r.Median)
			}
		}
	}
}

// Twice the exposure gives the same colours, whatever the correction, and the one that misses those left out
// by least is taken.
func TestExposureChangesNoColour(t *testing.T) {
	const alike = 1e-6
	patches := reflectances(t)
	c := cast["lamp, with cast"]
	var once, twice []seen
	var targets [][3]float64
	for i := range patches[:known] {
		raw := c.raw(&patches[i], c.light)
		lin := colour.D65().Lab(&patches[i]).SRGB().Linear()
		once, targets = append(once, seen{rgb: raw}), append(targets, [3]float64{lin.R, lin.G, lin.B})
		twice = append(twice, seen{rgb: [3]float64{2 * raw[0], 2 * raw[1], 2 * raw[2]}})
	}
	best := math.Inf(1)
	for _, kind := range []Correction{Gains, Matrix, Roots} {
		a, _ := fitted(kind, once, targets)
		b, _ := fitted(kind, twice, targets)
		for i := range once {
			if de := colour.DE2000(a.lab(once[i].rgb), b.lab(twice[i].rgb)); de > alike {
				t.Errorf("%d numbers: patch %d is moved by %g", kind.terms(), i, de)
			}
		}
		best = min(best, middle(a.misses(once, targets)))
	}
	if _, misses, ok := newCorrection(once, targets); !ok || middle(misses) != best {
		t.Errorf("the patches left out are missed by %.2f in the middle, not %.2f", middle(misses), best)
	}
}

// Glare, an edge in a patch and a picture out of focus are refused with a word.
func TestUnfitPhotographs(t *testing.T) {
	patches := reflectances(t)
	c := cast["daylight"]
	touch := func(i, x, y int, rgb *[3]float64) {
		switch {
		case i == 30 && x > 25 && x < 40 && y > 20 && y < 40: // glare
			*rgb = [3]float64{1, 1, 1}
		case i == 35 && x > side/2: // a neighbour
			*rgb = [3]float64{0.1, 0.3, 0.1}
		}
	}
	p := c.photograph(t, patches, touch)
	r, err := Read("sheet.jpg", "marks.csv", p, marksOf(t, patches, upTo(known)...))
	if err != nil || len(r.LeftOut) != 2 || len(r.Patches) != 14 {
		t.Fatal(err, r)
	}
	for i, want := range []string{"marks.csv:32: sample \"patch 30\": ", "marks.csv:37: sample \"patch 35\": "} {
		if got := r.LeftOut[i].Error(); !strings.HasPrefix(got, want) {
			t.Error(got)
		}
	}
	blurred := *p
	blurred.Pix = slices.Clone(p.Pix)
	const around = 14
	for _, way := range [][2]int{{1, 0}, {0, 1}, {1, 0}, {0, 1}} {
		from := slices.Clone(blurred.Pix)
		for y := range p.H {
			for x := range p.W {
				var sum colour.LinearRGB
				n := 0.0
				for d := -around; d <= around; d++ {
					if q, r := x+d*way[0], y+d*way[1]; q >= 0 && q < p.W && r >= 0 && r < p.H {
						c := from[r*p.W+q]
						sum.R, sum.G, sum.B, n = sum.R+c.R, sum.G+c.G, sum.B+c.B, n+1
					}
				}
				blurred.Pix[y*p.W+x] = colour.LinearRGB{R: sum.R / n, G: sum.G / n, B: sum.B / n}
			}
		}
	}
	if _, err := Read("sheet.jpg", "marks.csv", &blurred, marksOf(t, patches, upTo(known)...)); err == nil || !strings.Contains(err.Error(), "blurred") {
		t.Error(err)
	}
	if _, err := Read("sheet.jpg", "marks.csv", p, marksOf(t, patches)); err == nil || !strings.Contains(err.Error(), "grey card") {
		t.Error(err)
	}
	wrong := marksOf(t, patches, upTo(known)...)
	for i := range known { // each marked where another lies
		*wrong[i].Known = colour.D65().Lab(&patches[(i+7)%known])
	}
	if _, err := Read("sheet.jpg", "marks.csv", p, wrong); err == nil || !strings.Contains(err.Error(), "known patches are missed") {
		t.Error(err)
	}
}

func TestMarksThatAreWrong(t *testing.T) {
	const head = "sample,left,top,width,height,colour\n"
	for text, want := range map[string]string{
		"":                            "m: no patch is marked",
		"sample,left\n":               "m:1: header: no column is called top",
		head:                          "m: no patch is marked",
		head + ",0,0,0.1,0.1,\n":      "m:2: sample: ",
		head + "a,x,0,0.1,0.1,\n":     "m:2: sample \"a\": its place",
		head + "a,0.95,0,0.1,0.1,\n":  "m:2: sample \"a\": it reaches out",
		head + "a,0,0,0.1,0.1,grue\n": "m:2: sample \"a\": ",
		head + "a,0,0\n":              "m:2: its commas",
		head + "a,0,0,0.1,\"0.1,x\n":  "m:2: its commas",
		"\xff\xfe":                    "m: it is no CSV text",
		head + "a,nan,0,0.1,0.1,\n":   "m:2: sample \"a\": its place",
		head + "a,0,0,0,0.1,\n":       "m:2: sample \"a\": it reaches out of the picture, or has no size",
	} {
		if _, err := ParseMarks("m", []byte(text)); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

func FuzzMarks(f *testing.F) {
	f.Add([]byte("sample,left,top,width,height,colour\na,0,0,0.1,0.1,5G 4/2\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		var marks []Mark
		var err error
		bounded.Work(t, len(data), func() { marks, err = ParseMarks("m", data) })
		if err != nil {
			bounded.Refusal(t, err, "m", "; ")
			return
		}
		for _, m := range marks {
			if m.Name == "" || !(m.Width > 0 && m.Left+m.Width <= 1 && m.Height > 0 && m.Top+m.Height <= 1) {
				t.Fatalf("%+v", m)
			}
		}
	})
}
