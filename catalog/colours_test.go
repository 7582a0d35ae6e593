package catalog

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/figures"
	"fewtubes/gamut/film"
)

func testTable(t *testing.T, name string) []map[string]string {
	t.Helper()
	return figures.Named(t, filepath.Join("testdata", name))
}

func testNumber(t *testing.T, row map[string]string, field string) float64 {
	t.Helper()
	return figures.Number(t, row[field])
}

func mustGet(t *testing.T, id string) Tube {
	t.Helper()
	tube, err := builtinTubes(t).Get(id)
	if err != nil {
		t.Fatal(err)
	}
	return tube
}

// How far, in CIEDE2000, a tube may lie from the acrylic paint of its pigment: what
// storing it at its nodes costs where it stands on that paint alone; what a second
// measurement moves its mean by; and what that and the catalogue's darker white do to its tint.
const (
	nodesLose   = 0.3
	secondMoves = 3.0
	tintMoves   = 2.5
)

// The source is named in the file.
func TestTubesKeepTheColoursOfTheirAcrylics(t *testing.T) {
	c := builtinTubes(t)
	rows := testTable(t, "acrylic_colours.csv")
	alone := 0
	for _, row := range rows {
		tube := mustGet(t, row["id"])
		if tube.Basis != Measured {
			t.Errorf("%s is %s", tube.ID, tube.Basis)
		}
		if tube.ID == "titanium-white" { // another white, so that it is one with the oils'
			continue
		}
		within := secondMoves
		if !strings.Contains(tube.Source, "Okumura") {
			within = nodesLose
			alone++
		}
		s := NewSwatch(&tube, c.White(), colour.D65(), c.Scale().Surface)
		lab := colour.Lab{L: testNumber(t, row, "l"), A: testNumber(t, row, "a"), B: testNumber(t, row, "b")}
		tint := colour.Lab{L: testNumber(t, row, "tint_l"), A: testNumber(t, row, "tint_a"), B: testNumber(t, row, "tint_b")}
		if de := colour.DE2000(s.Masstone, lab); de > within {
			t.Errorf("%s: masstone %.2f away", tube.ID, de)
		}
		if de := colour.DE2000(s.Tint, tint); de > tintMoves {
			t.Errorf("%s: tint %.2f away", tube.ID, de)
		}
	}
	if len(rows) != 19 || alone != 9 {
		t.Errorf("%d acrylics, %d tubes stand on them alone", len(rows), alone)
	}
}

// powderHue is how far, in degrees, a masstone's hue may lie from that of the
// dry powder of its pigment, another batch from another maker.
const powderHue = 18

// The source is named in the file.
func TestMasstoneHuesFollowThePowders(t *testing.T) {
	for _, row := range testTable(t, "powder_hues.csv") {
		tube := mustGet(t, row["id"])
		seen := tube.Paint.Masstone(film.Dry)
		got, want := colour.D65().Lab(&seen).LCh().H, testNumber(t, row, "hue")
		off := math.Remainder(got-want, 360)
		if math.Abs(off) > powderHue {
			t.Errorf("%s: hue %.0f, powder %.0f", tube.ID, got, want)
		}
	}
}

// No masstone is darker than the surface glare nor stronger in chroma than
// paints come: about 100 for the strongest yellow (common practice, no source).
func TestNoMasstoneIsBeyondAPaintFilm(t *testing.T) {
	for _, tube := range builtinTubes(t).Tubes() {
		seen := tube.Paint.Masstone(film.Dry)
		for b, r := range seen {
			if r < film.Dry.K1 || r >= 1 {
				t.Errorf("%s reflects %.4f in band %d", tube.ID, r, b)
			}
		}
		lab := colour.D65().Lab(&seen)
		if lab.L < 20 || lab.LCh().C > 100 {
			t.Errorf("%s: L %.1f C %.1f", tube.ID, lab.L, lab.LCh().C)
		}
	}
}

// splineSlack is how far interpolation between nodes may pass a floor.
const splineSlack = 0.5

func TestKAndSStayWithinFloorsAndCeilings(t *testing.T) {
	for _, tube := range builtinTubes(t).Tubes() {
		for b := range colour.Bands {
			k, s := tube.Paint.K[b], tube.Paint.S[b]
			if k < splineSlack*film.FloorK || k > film.CeilK || s < splineSlack*film.FloorS || s > 1.01 {
				t.Errorf("%s: K %g S %g in band %d", tube.ID, k, s, b)
			}
		}
	}
}
