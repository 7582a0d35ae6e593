package catalog

import (
	"math"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// What each doubt leaves alone: tilts and strength keep the masstone, strength
// keeps every mix whose share is changed in turn.
func TestDoubts(t *testing.T) {
	c := builtinTubes(t)
	light := colour.D65()
	for _, tube := range c.Tubes() {
		before := NewSwatch(&tube, c.White(), light, film.Dry)
		for _, d := range Doubts() {
			other := tube.Doubted(d)
			after := NewSwatch(&other, c.White(), light, film.Dry)
			moved := colour.DE2000(before.Masstone, after.Masstone)
			if keeps := d >= BlueTilt; keeps && moved > 1e-9 {
				t.Errorf("%s, %s: masstone moves by %g", tube.ID, d, moved)
			}
			if !d.ChangesReach() {
				by := other.Paint.K[0] / tube.Paint.K[0]
				same := other.Paint.Tint(c.White(), SwatchParts*by, film.Dry)
				if de := colour.DE2000(light.Lab(&same), before.Tint); de > 1e-9 {
					t.Errorf("%s, %s: another share does not make up for it: %g", tube.ID, d, de)
				}
			}
		}
		dark, bright := tube.Doubted(MoreRatio), tube.Doubted(LessRatio)
		m, n := dark.Paint.Masstone(film.Dry), bright.Paint.Masstone(film.Dry)
		if light.Lab(&m).L > light.Lab(&n).L {
			t.Errorf("%s: more absorption makes it lighter", tube.ID)
		}
	}
}

// A tilt is what its words say: half higher at one end of the spectrum, lower by
// as much at the other, and nothing in the middle.
func TestTiltsAreHalfAtTheEnds(t *testing.T) {
	tube, ok := builtinTubes(t).Find("yellow-ochre")
	if !ok {
		t.Fatal("no yellow ochre")
	}
	const last = colour.Bands - 1
	blue, red := tube.Doubted(BlueTilt).Paint, tube.Doubted(RedTilt).Paint
	for b, want := range map[int]float64{0: 1.5, last: 1 / 1.5} {
		if got := blue.S[b] / tube.Paint.S[b]; math.Abs(got-want) > 1e-12 {
			t.Errorf("%s: S times %v in band %d, want %v", BlueTilt, got, b, want)
		}
		if got := red.S[last-b] / tube.Paint.S[last-b]; math.Abs(got-want) > 1e-12 {
			t.Errorf("%s: S times %v in band %d, want %v", RedTilt, got, last-b, want)
		}
	}
	if got := blue.S[last/2] * blue.S[last/2+1] / (tube.Paint.S[last/2] * tube.Paint.S[last/2+1]); math.Abs(got-1) > 1e-12 {
		t.Errorf("about the middle S changes by %v", got)
	}
}

// The measured paints' Lab moves little under a 20 % doubt: published scatter
// of K/S between batches of one pigment is of this order (common practice, no
// source), a few CIEDE2000 at most.
func TestRatioDoubtIsModest(t *testing.T) {
	c := builtinTubes(t)
	worst := 0.0
	for _, tube := range c.Tubes() {
		before := NewSwatch(&tube, c.White(), colour.D65(), film.Dry)
		other := tube.Doubted(MoreRatio)
		after := NewSwatch(&other, c.White(), colour.D65(), film.Dry)
		worst = math.Max(worst, colour.DE2000(before.Masstone, after.Masstone))
	}
	if worst < 1 || worst > 4 {
		t.Errorf("K/S off by a fifth moves a masstone by up to %.2f, want 1..4", worst)
	}
}
