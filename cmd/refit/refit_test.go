package main

import (
	"bytes"
	"context"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// publishedReadings are the tables the catalogue is derived from; tests that
// need them are skipped where they are not.
func publishedReadings(t testing.TB) fs.FS {
	dir := os.Getenv("FEWTUBES_SHARED")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared")
	}
	dir = filepath.Join(dir, "data")
	if _, err := os.Stat(dir); err != nil {
		t.Skip("the published readings are not here")
	}
	return os.DirFS(dir)
}

// once reads and fits the readings for all tests.
var once struct {
	sync.Once
	p   *published
	err error
}

func readOnce(t *testing.T) *published {
	files := publishedReadings(t)
	once.Do(func() { once.p, once.err = readPublished(context.Background(), files) })
	if once.err != nil {
		t.Fatal(once.err)
	}
	return once.p
}

func TestRefitWritesTheCommittedFile(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors fuse multiplications and additions: the third digit may differ")
	}
	got, err := refit(context.Background(), publishedReadings(t), io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	want, err := os.ReadFile(filepath.Join("..", "..", "catalog", "data", "film.csv"))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("catalog/data/film.csv is not what refit makes of the readings: run go run ./cmd/refit -readings DIR")
	}
}

func builtin(t *testing.T) (*catalog.Catalogue, []derivation) {
	t.Helper()
	c, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	steps, err := readDerivations()
	if err != nil {
		t.Fatal(err)
	}
	return c, steps
}

// The derivations list the tubes in catalogue order, and each tube's basis is
// what its derivation deserves.
func TestBasisIsHonest(t *testing.T) {
	c, steps := builtin(t)
	basis := map[string]catalog.Basis{"acrylic": catalog.Measured, "film": catalog.Fitted, "oil": catalog.Fitted}
	tubes := c.Tubes()
	if len(tubes) != len(steps) {
		t.Fatalf("%d tubes, %d derivations", len(tubes), len(steps))
	}
	for i, s := range steps {
		want, ok := basis[s.method]
		if !ok {
			want = catalog.Estimated
		}
		if tubes[i].ID != s.id || tubes[i].Basis != want {
			t.Errorf("tube %d: %s is %s, want %s, %s", i, tubes[i].ID, tubes[i].Basis, s.id, want)
		}
		if mixed := s.method == "mixture"; mixed != strings.HasPrefix(tubes[i].Source, "recipe indicative (no source)") {
			t.Errorf("%s: source %q", s.id, tubes[i].Source)
		}
	}
}

// A tube of several pigments names those of its recipe and carries their
// hazards.
func TestMixturesNameTheirPigments(t *testing.T) {
	c, steps := builtin(t)
	for _, s := range steps {
		if s.method != "mixture" {
			continue
		}
		tube, _ := c.Find(s.id)
		var pigments, hazards []string
		for _, part := range strings.Fields(s.reading) {
			id, _, _ := strings.Cut(part, ":")
			of, err := c.Get(id)
			if err != nil {
				t.Fatal(err)
			}
			pigments, hazards = append(pigments, of.Pigments...), append(hazards, of.Hazards...)
		}
		if !sameSet(pigments, tube.Pigments) || !sameSet(hazards, tube.Hazards) {
			t.Errorf("%s: %v %v, its parts %v %v", s.id, tube.Pigments, tube.Hazards, pigments, hazards)
		}
	}
}

func sameSet(a, b []string) bool {
	sorted := func(v []string) []string { return slices.Compact(slices.Sorted(slices.Values(v))) }
	return slices.Equal(sorted(a), sorted(b))
}

// The pigments that stand both among the acrylics and in another set come out
// alike from both: other makers, binders and grades, so not the same, but the
// hue must hold. Figures: the published K and S of the acrylics.
func TestTwinsLookAlike(t *testing.T) {
	p := readOnce(t)
	const farthest, middling = 20, 6 // CIEDE2000
	sets := map[string]map[string]*film.Paint{"films": p.films, "oils": p.oils, "inorganic": p.patches, "organic": p.patches}
	var all []float64
	for _, name := range scaleNames {
		for _, twin := range twins[name] {
			a, b := sets[name][twin.reading].Masstone(film.Dry), p.acrylics[twin.acrylic].Masstone(film.Dry)
			la, lb := colour.D65().Lab(&a), colour.D65().Lab(&b)
			de := colour.DE2000(la, lb)
			all = append(all, de)
			t.Logf("%-30s %5.1f %5.1f %4.0f, %s %5.1f %5.1f %4.0f: %.1f", twin.reading, la.L, la.LCh().C, la.LCh().H, twin.acrylic, lb.L, lb.LCh().C, lb.LCh().H, de)
			if de > farthest {
				t.Errorf("%s: masstone %.1f from that of the acrylic", twin.reading, de)
			}
		}
	}
	slices.Sort(all)
	if m := all[len(all)/2]; m > middling {
		t.Errorf("median %.1f", m)
	}
}

// How far the scales of different makers agree, as catalog/data/SOURCES.md says.
func TestScalesAgree(t *testing.T) {
	p := readOnce(t)
	scales, err := findScales(p, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]float64{"films": 1.05, "oils": 10.7, "inorganic": 3.2, "organic": 1.2} {
		if r := scales[name] / want; r < 0.95 || r > 1.05 {
			t.Errorf("scale %s is %.3f, SOURCES.md says %g", name, scales[name], want)
		}
	}
	for _, patch := range []string{"burnt sienna dark", "burnt sienna french"} {
		r := math.Exp(absorption(p.patches[patch], p.films["B13"])) / scales["inorganic"]
		t.Logf("%s absorbs %.2f times as much as the burnt sienna of the films", patch, r)
		if r < 0.7 || r > 1.4 {
			t.Errorf("%s absorbs %.2f times as much as the burnt sienna of the films: nothing ties them, but they should agree", patch, r)
		}
	}
}

// The inversion of the chart: a film made over the four grounds with
// known K and S comes back.
func TestPatchFitRecoversAFilm(t *testing.T) {
	var want film.Paint
	for b := range want.K {
		want.K[b], want.S[b] = 0.3+0.02*float64(b), 0.8-0.01*float64(b)
	}
	var readings []film.Reading
	for _, g := range grounds {
		ground := colour.Flat(g)
		r := film.Reading{Amounts: []float64{1}, Backing: &ground, Thickness: 1}
		for b := range r.Seen {
			inside := film.Over(want.K[b], want.S[b], 1, film.Dry.Inside(g))
			r.Seen[b], r.Have[b] = film.Dry.Seen(inside), true
		}
		readings = append(readings, r)
	}
	fit, err := film.Fit(context.Background(), readings, 1, film.DefaultFit())
	if err != nil {
		t.Fatal(err)
	}
	for b := range want.K {
		if k, s := fit.Paints[0].K[b]/want.K[b], fit.Paints[0].S[b]/want.S[b]; math.Abs(k-1) > 0.01 || math.Abs(s-1) > 0.01 {
			t.Errorf("band %d: K off by %.3f, S by %.3f", b, k-1, s-1)
		}
	}
}

func TestFilmCSVFailsOnBadInput(t *testing.T) {
	ctx := context.Background()
	if _, err := refit(ctx, os.DirFS(t.TempDir()), io.Discard); err == nil {
		t.Error("an empty folder of readings: no error")
	}
	d := newDeriver(&published{}, nil, []derivation{
		{id: "a", method: "mixture", reading: "b:1", strength: 1},
		{id: "b", method: "mixture", reading: "a:1", strength: 1},
		{id: "c", method: "guess", strength: 1},
		{id: "e", method: "mixture", reading: "a:none", strength: 1},
		{id: "f", method: "acrylic", reading: "PX1", strength: 1},
	})
	for id, want := range map[string]string{"a": "itself", "c": "method", "e": "parts", "f": "reading", "g": "list"} {
		if _, err := d.tube(id); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", id, err)
		}
	}
}
