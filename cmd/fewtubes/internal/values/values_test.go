package values

import (
	"math"
	"slices"
	"testing"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/gamut/bounded"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/figures"
	"fmt"

	"pgregory.net/rapid"
)

const wide = "../../../../testdata/salt-marsh/wide.jpg"

func open(t *testing.T, path string, longest int) *photo.Picture {
	t.Helper()
	p, err := photo.Open(path, longest)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Greys of ten pictures against ImageMagick, see the head of testdata/greys.csv.
func TestGreysAgainstImageMagick(t *testing.T) {
	const tolerance = 0.01 // L*
	header, rows := figures.Table(t, "testdata/greys.csv")
	if len(rows) != 10 {
		t.Fatalf("%d rows, want ten pictures", len(rows))
	}
	worst := 0.0
	for _, row := range rows {
		g := Greys(open(t, "testdata/"+row[0], 0))
		got := []float64{g.Mean(0, 0, 1, 1), slices.Min(g.L), slices.Max(g.L), g.L[5*g.W+5], g.L[15*g.W+20], g.L[25*g.W+35]}
		for k, v := range got {
			want := figures.Number(t, row[1+k])
			worst = max(worst, math.Abs(v-want))
			if math.Abs(v-want) > tolerance {
				t.Errorf("%s, %s: %.4f, want %.4f", row[0], header[1+k], v, want)
			}
		}
	}
	t.Logf("largest difference %.5f", worst)
}

// askew.jpg is the wide demo picture, laid by ImageMagick 6.9.11-60 (-distort
// Perspective) with its corners at these pixels of 400 x 320 on a grey ground.
var askew = Quad{{40. / 400, 50. / 320}, {350. / 400, 30. / 320}, {370. / 400, 290. / 320}, {25. / 400, 270. / 320}}

func TestCornersFound(t *testing.T) {
	const tolerance = 0.008 // of the picture, 3 pixels
	q, ok := Corners(open(t, "testdata/askew.jpg", 0))
	if !ok {
		t.Fatal("no corners found")
	}
	for i := range q {
		if math.Abs(q[i].X-askew[i].X) > tolerance || math.Abs(q[i].Y-askew[i].Y) > tolerance {
			t.Errorf("corner %d: %.4f, want %.4f", i, q[i], askew[i])
		}
	}
	if q, ok := Corners(open(t, wide, 300)); ok {
		t.Errorf("a picture to the edges has corners %v", q)
	}
}

// What does not fill four corners is no painting, however much of the photograph
// it takes up.
func TestCornersOfNoPainting(t *testing.T) {
	most := func(x, y float64) float64 { return math.Max(math.Abs(x), math.Abs(y)) }
	for name, c := range map[string]struct {
		paint func(x, y float64) bool // from the middle, the side of the photograph 1
		found bool
	}{
		"square":           {func(x, y float64) bool { return most(x, y) < 0.4 }, true},
		"square, one bite": {func(x, y float64) bool { return most(x, y) < 0.4 && !(x > 0.3 && y > -0.05 && y < 0.05) }, true},
		"disc":             {func(x, y float64) bool { return math.Hypot(x, y) < 0.4 }, false},
		"cross":            {func(x, y float64) bool { return most(x, y) < 0.45 && min(math.Abs(x), math.Abs(y)) < 0.15 }, false},
		"angle":            {func(x, y float64) bool { return most(x, y) < 0.4 && (x < 0 || y > 0) }, false},
		"frame": {func(x, y float64) bool {
			return most(x, y) < 0.4 && (most(x, y) > 0.3 || y > 0) && !(math.Abs(x) < 0.05 && y < 0)
		}, false},
	} {
		p := &photo.Picture{W: 100, H: 100, FullW: 100, FullH: 100}
		for i := range p.W * p.H {
			lab := colour.Lab{L: 50}
			if c.paint((float64(i%p.W)+0.5)/100-0.5, (float64(i/p.W)+0.5)/100-0.5) {
				lab = colour.Lab{L: 80, A: 20, B: 20}
			}
			p.Pix = append(p.Pix, lab.SRGB().Linear())
		}
		if q, ok := Corners(p); ok != c.found {
			t.Errorf("%s: %v, %v", name, q, ok)
		}
	}
}

// The laid-out picture, flattened again, has the values of the original.
func TestCompareUndoesPerspective(t *testing.T) {
	const tolerance = 1.0 // L* of a zone; the picture was resampled twice and coded as JPEG
	reference, painting := open(t, wide, 300), open(t, "testdata/askew.jpg", 0)
	for name, corners := range map[string]*Quad{"found": nil, "given": &askew} {
		c, err := Compare(reference, painting, Options{Columns: 4, Rows: 3, Levels: 4, Corners: corners})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(c.Stretch-1) > 0.1 { // 1.5 laid out as about 330 by 230
			t.Errorf("%s: stretch %v", name, c.Stretch)
		}
		if math.Abs(c.Gain-1) > 0.03 {
			t.Errorf("%s: gain %v", name, c.Gain)
		}
		for _, z := range c.Zones {
			if math.Abs(z.Difference()) > tolerance {
				t.Errorf("%s: zone %+v off by %.2f", name, z, z.Difference())
			}
		}
		if b := c.Board().Bounds(); b.Dx() < 900 || b.Dy() < 400 {
			t.Errorf("board of %v", b)
		}
	}
}

// Half the light on a painting is one stop, found and undone by either way; a
// zone painted too dark stays too dark.
func TestExposure(t *testing.T) {
	reference := open(t, wide, 200)
	painting := *reference
	painting.Pix = slices.Clone(reference.Pix)
	for i, c := range painting.Pix {
		f := 0.5
		if x, y := i%painting.W, i/painting.W; x < painting.W/4 && y < painting.H/3 {
			f = 0.3
		}
		painting.Pix[i] = colour.LinearRGB{R: f * c.R, G: f * c.G, B: f * c.B}
	}
	card := Card{0.9, 0.9, 0.02}
	for i := range painting.Pix {
		x, y := float64(i%painting.W)/float64(painting.W), float64(i/painting.W)/float64(painting.H)
		if math.Hypot(x-card.X, y-card.Y) < 0.06 {
			reference.Pix[i] = colour.LinearRGB{R: 0.18, G: 0.18, B: 0.18}
			painting.Pix[i] = colour.LinearRGB{R: 0.09, G: 0.09, B: 0.09}
		}
	}
	// The dark zone is part of what the percentiles see.
	stops := map[string]float64{"percentiles": 0.08, "card": 0.001}
	for name, o := range map[string]Options{
		"percentiles": {Columns: 4, Rows: 3, Levels: 3, Corners: &Whole},
		"card":        {Columns: 4, Rows: 3, Levels: 3, Corners: &Whole, PaintingCard: &card, ReferenceCard: &card},
	} {
		c, err := Compare(reference, &painting, o)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(math.Log2(c.Gain)-1) > stops[name] || c.ByCard != (name == "card") {
			t.Errorf("%s: %.3f stops", name, math.Log2(c.Gain))
		}
		for i, z := range c.Zones {
			if dark := z.Difference() < -10; dark != (i == 0) || i > 0 && math.Abs(z.Difference()) > 1.5 {
				t.Errorf("%s: zone %+v", name, z)
			}
		}
	}
	for i := range painting.Pix {
		painting.Pix[i] = colour.LinearRGB{}
	}
	if _, err := Compare(reference, &painting, Options{Columns: 1, Rows: 1, Levels: 3, Corners: &Whole, PaintingCard: &card}); err == nil {
		t.Error("a black grey card was taken")
	}
}

// The plan is the best of all partitions, tried one by one.
func TestPlanAgainstAllPartitions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.IntRange(0, 100), 1, 10).Draw(t, "values")
		n := rapid.IntRange(2, 4).Draw(t, "levels")
		g := Grey{W: len(values), H: 1}
		for _, v := range values {
			g.L = append(g.L, float64(v))
		}
		p := NewPlan(g, n)
		var got float64
		for i, l := range p.Flatten(g).L {
			got += (l - g.L[i]) * (l - g.L[i])
		}
		sorted := slices.Sorted(slices.Values(g.L))
		if want := bestSplit(sorted, n); math.Abs(got-want) > 1e-6 {
			t.Fatalf("%v in %d: error %v, best %v (%+v)", values, n, got, want, p)
		}
		if !slices.IsSorted(p.Levels) || len(p.Bounds) != len(p.Levels)-1 {
			t.Fatalf("%+v", p)
		}
	})
}

func bestSplit(sorted []float64, n int) float64 {
	if len(sorted) == 0 {
		return 0
	}
	if n == 1 {
		var sum, square float64
		for _, v := range sorted {
			sum += v
			square += v * v
		}
		return square - sum*sum/float64(len(sorted))
	}
	best := math.Inf(1)
	for cut := 1; cut <= len(sorted); cut++ {
		best = min(best, bestSplit(sorted[:cut], 1)+bestSplit(sorted[cut:], n-1))
	}
	return best
}

func TestParseQuad(t *testing.T) {
	if q, err := ParseQuad("0.1,0.15625 0.875,0.09375  0.925,0.90625; 0.0625,0.84375"); err != nil || q != askew {
		t.Errorf("%v, %v", q, err)
	}
	for _, bad := range []string{"", "0,0 1,0 1,1", "0,0 1,0 0,1 1,1", "0,0 0,1 1,1 1,0", "0,0 2,0 1,1 0,1", "0,0 NaN,0 1,1 0,1", "0,0 0.5,0 1,0 0,1", "a,b 1,0 1,1 0,1"} {
		if q, err := ParseQuad(bad); err == nil {
			t.Errorf("%q became %v", bad, q)
		}
	}
}

func FuzzParseQuad(f *testing.F) {
	f.Add("0.1,0.15 0.9,0.1 0.92,0.9 0.06,0.84")
	f.Add("0,0;1,0;1,1;0,1")
	f.Fuzz(func(t *testing.T, text string) {
		var q Quad
		var err error
		bounded.Work(t, len(text), func() { q, err = ParseQuad(text) })
		if err != nil {
			bounded.Refusal(t, err, "; ")
		}
		if err == nil && (q.Check() != nil || !(q.area() > 0)) {
			t.Fatalf("%q: %v", text, q)
		}
	})
}

func FuzzParseCard(f *testing.F) {
	for _, s := range []string{"0.5,0.9", "0.5,0.9,0.02", "nan,0", "1e-300,1", ",", "0.5;0.5"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var c Card
		var err error
		bounded.Work(t, len(text), func() { c, err = ParseCard(text) })
		if err != nil {
			bounded.Refusal(t, err, "; ")
			return
		}
		for _, v := range []float64{c.X, c.Y, c.Radius} {
			if !(v >= 0 && v <= 1) {
				t.Fatalf("%q: %v", text, c)
			}
		}
		if again, err := ParseCard(fmt.Sprintf("%v,%v,%v", c.X, c.Y, c.Radius)); err != nil || again != c {
			t.Fatalf("%q: %v, read again %v, %v", text, c, again, err)
		}
	})
}

// A homography sends the corners where they belong.
func TestHomography(t *testing.T) {
	m, err := homography(askew)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range Whole {
		w := m[6]*p.X + m[7]*p.Y + 1
		x, y := (m[0]*p.X+m[1]*p.Y+m[2])/w, (m[3]*p.X+m[4]*p.Y+m[5])/w
		if math.Hypot(x-askew[i].X, y-askew[i].Y) > 1e-12 {
			t.Errorf("corner %d: %v, %v", i, x, y)
		}
	}
}
