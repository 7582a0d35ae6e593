package main

import (
	"bytes"
	"context"
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
	"fewtubes/gamut/film/doubt"
)

var root = filepath.Join("..", "..")

// once derives everything for all tests, which are skipped where the published
// readings are not.
var once struct {
	sync.Once
	d   *deriver
	err error
}

func derived(t *testing.T) *deriver {
	t.Helper()
	dir := sharedReadings(filepath.Join(root, ".."))
	if _, err := os.Stat(dir); err != nil {
		t.Skip("the published readings are not here; the committed tables are checked instead")
	}
	once.Do(func() { once.d, once.err = derive(context.Background(), os.DirFS(dir)) })
	if once.err != nil {
		t.Fatal(once.err)
	}
	return once.d
}

func TestRefitWritesTheCommittedFiles(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors fuse multiplications and additions: the third digit may differ")
	}
	got, err := written(context.Background(), derived(t))
	if err != nil {
		t.Fatal(err)
	}
	for path, text := range got {
		want, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(path)))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(text, want) {
			t.Errorf("%s is not what refit makes of the readings: run go run ./cmd/refit", path)
		}
	}
}

func builtin(t *testing.T) *catalog.Catalogue {
	t.Helper()
	c, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func derivations(t *testing.T) []derivation {
	t.Helper()
	steps, err := readDerivations()
	if err != nil {
		t.Fatal(err)
	}
	return steps
}

// The derivations list the tubes in catalogue order, mixtures left out; each
// tube's basis is what its readings deserve, and its source names their papers.
func TestBasisIsHonest(t *testing.T) {
	basis := map[string]catalog.Basis{berns: catalog.Measured, okumura: catalog.Measured, films: catalog.Fitted, oils: catalog.Fitted, chart: catalog.Estimated}
	steps := derivations(t)
	for _, tube := range builtin(t).Tubes() {
		if len(tube.Parts) > 0 {
			if tube.Basis != catalog.Estimated || !strings.HasPrefix(tube.Source, "recipe indicative, no source") {
				t.Errorf("%s is %s, %s", tube.ID, tube.Basis, tube.Source)
			}
			continue
		}
		if len(steps) == 0 || steps[0].id != tube.ID {
			t.Fatalf("%s is not the next of derivations.csv", tube.ID)
		}
		s := steps[0]
		steps = steps[1:]
		want := catalog.Estimated
		if s.method == "readings" {
			want = basis[s.readings[0].set]
		}
		if tube.Basis != want {
			t.Errorf("%s is %s, want %s", tube.ID, tube.Basis, want)
		}
		for _, r := range s.readings {
			if !strings.Contains(tube.Source, paper[r.set]) {
				t.Errorf("%s stands on %s, its source is %q", tube.ID, paper[r.set], tube.Source)
			}
		}
	}
	if len(steps) > 0 {
		t.Errorf("%s is no tube", steps[0].id)
	}
}

// A tube of several pigments names those of its recipe and carries their
// hazards.
func TestMixturesNameTheirPigments(t *testing.T) {
	c := builtin(t)
	for _, tube := range c.Tubes() {
		if len(tube.Parts) == 0 {
			continue
		}
		var pigments, hazards []string
		for _, part := range tube.Parts {
			of, err := c.Get(part.Tube)
			if err != nil {
				t.Fatal(err)
			}
			pigments, hazards = append(pigments, of.Pigments...), append(hazards, of.Hazards...)
		}
		if !sameSet(pigments, tube.Pigments) || !sameSet(hazards, tube.Hazards) {
			t.Errorf("%s: %v %v, its parts %v %v", tube.ID, tube.Pigments, tube.Hazards, pigments, hazards)
		}
	}
}

func sameSet(a, b []string) bool {
	sorted := func(v []string) []string { return slices.Compact(slices.Sorted(slices.Values(v))) }
	return slices.Equal(sorted(a), sorted(b))
}

// The surface that the K and S of Okumura hold under was not published with them.
// Under k2 0.60 its paints are as strong as those of Berns, of the same laboratory, in
// the geometric mean of the ten pigments of both; 0.65 and 0.50 make them a fifth
// and more stronger or weaker.
func TestSurfaceOfOkumura(t *testing.T) {
	d := derived(t)
	raw, err := readAcrylics(os.DirFS(sharedReadings(filepath.Join(root, ".."))), "okumura2005_acrylic_ks.csv", "pigment")
	if err != nil {
		t.Fatal(err)
	}
	for k2, range_ := range map[float64][2]float64{0.50: {0, 0.85}, 0.60: {0.93, 1.07}, 0.65: {1.15, 2}} {
		paints := resurface(raw, okumuraWhite, film.Surface{K1: 0.03, K2: k2}, film.Dry)
		var logs []float64
		for _, s := range d.order {
			var b, o *film.Paint
			for _, r := range slices.Concat(s.readings, s.otherwise) {
				switch r.set {
				case berns:
					b = d.sets[berns][r.name]
				case okumura:
					o = paints[r.name]
				}
			}
			if b != nil && o != nil {
				logs = append(logs, math.Log(likenessTo(newSwatch(b, d.done[scaleTube]), o, paints[okumuraWhite]).strength))
			}
		}
		ratio := math.Exp(mean(logs))
		t.Logf("k2 %.2f: %.3f times as strong, %d pigments", k2, ratio, len(logs))
		if len(logs) != 10 || ratio < range_[0] || ratio > range_[1] {
			t.Errorf("k2 %.2f: %.3f times as strong, want %v", k2, ratio, range_)
		}
	}
}

// Bringing a paint under another surface keeps its masstone and tint, and so
// nearly the other tints.
func TestResurfaceKeepsColours(t *testing.T) {
	c := builtin(t)
	paints := map[string]*film.Paint{}
	for _, tube := range c.Tubes() {
		p := tube.Paint
		paints[tube.ID] = &p
	}
	to := film.Surface{K1: 0.03, K2: 0.60}
	moved := resurface(paints, scaleTube, film.Dry, to)
	for id, p := range paints {
		for parts, within := range map[float64]float64{0: 0.02, tintParts: 0.3, 3: 1, 40: 1} {
			a, b := p.Tint(paints[scaleTube], parts, film.Dry), moved[id].Tint(moved[scaleTube], parts, to)
			if de := colour.DE2000(labOf(a), labOf(b)); de > within {
				t.Errorf("%s in %g of white: %.2f", id, parts, de)
			}
		}
	}
}

// The spreads of package doubt are those that all pairs ask for, strength to a
// twentieth.
func TestSpreadsAreThoseOfThePairs(t *testing.T) {
	d := derived(t)
	measured, onChart, err := d.makerPairs()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		pairs []makerPair
		want  doubt.Spread
	}{{measured, doubt.Measured}, {onChart, doubt.Chart}} {
		_, got := coverage(c.pairs, d.done[scaleTube])
		got.Strength = math.Round(got.Strength*20) / 20
		for _, v := range [][2]float64{{got.Strength, c.want.Strength}, {got.Scattering, c.want.Scattering}, {got.KShape, c.want.KShape}, {got.SShape, c.want.SShape}} {
			if math.Abs(v[0]-v[1]) > 1e-9 {
				t.Errorf("%s pairs ask for %+v, package doubt has %+v", c.pairs[0].kind, got, c.want)
				break
			}
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

func TestRefitFailsOnBadInput(t *testing.T) {
	if _, err := derive(context.Background(), os.DirFS(t.TempDir())); err == nil {
		t.Error("an empty folder of readings: no error")
	}
	p := &published{sets: map[string]map[string]*film.Paint{}}
	d := newDeriver(p, &correction{}, []derivation{
		{id: "a", method: "fine", relative: "b"},
		{id: "b", method: "fine", relative: "a"},
		{id: "c", method: "guess"},
		{id: "e", method: "borrowed", relative: "a"},
		{id: "f", method: "readings", readings: []source{{berns, "PX1"}}},
		{id: "h", method: "readings"},
	})
	for id, want := range map[string]string{"a": "itself", "c": "method", "e": "readings", "f": "reading", "g": "list", "h": "left"} {
		if _, err := d.tube(id); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", id, err)
		}
	}
	if _, err := parseSources("PB29"); err == nil {
		t.Error("a source without a set: no error")
	}
}
