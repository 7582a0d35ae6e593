package catalog_test

import (
	"math"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/film/doubt"
	"fewtubes/gamut/set"
)

// A palette of landscape tubes, and colours of a shore in summer that it can
// mostly mix. Both are invented for the test.
var (
	doubtfulPalette = []string{"titanium-white", "cadmium-yellow-light", "yellow-ochre", "alizarin-crimson", "burnt-umber", "ultramarine-blue", "cerulean-blue"}
	shoreColours    = []colour.LCh{
		{L: 84, C: 8, H: 235}, {L: 72, C: 18, H: 255}, {L: 60, C: 24, H: 265}, {L: 78, C: 12, H: 85}, {L: 66, C: 24, H: 78}, {L: 52, C: 22, H: 72},
		{L: 40, C: 14, H: 65}, {L: 32, C: 8, H: 60}, {L: 62, C: 30, H: 108}, {L: 48, C: 24, H: 115}, {L: 40, C: 16, H: 125}, {L: 34, C: 10, H: 140},
		{L: 56, C: 10, H: 300}, {L: 45, C: 14, H: 320}, {L: 70, C: 6, H: 20}, {L: 50, C: 4, H: 100}, {L: 88, C: 22, H: 92}, {L: 76, C: 40, H: 98},
	}
)

const reachWithin = 2.5 // CIEDE2000

// nearestMixes of the shore's colours from some tubes of box n.
func nearestMixes(t *testing.T, tubes []catalog.Tube, n int) []gamut.Mix {
	t.Helper()
	paints := make([]film.Paint, len(tubes))
	catalog.NewBoxes(tubes).Draw(n, paints)
	m, err := gamut.NewMixer(paints, gamut.Options{Surface: film.Dry})
	if err != nil {
		t.Fatal(err)
	}
	var out []gamut.Mix
	for _, c := range shoreColours {
		out = append(out, m.Closest(c.Lab(), set.Full(m.Len()), gamut.Search))
	}
	return out
}

func doubtfulTubes(t *testing.T) []catalog.Tube {
	t.Helper()
	c, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	var tubes []catalog.Tube
	for _, id := range doubtfulPalette {
		tube, err := c.Get(id)
		if err != nil {
			t.Fatal(err)
		}
		tubes = append(tubes, tube)
	}
	return tubes
}

// Strength alone never changes reach, whatever the boxes, only the parts.
func TestStrengthNeverChangesReach(t *testing.T) {
	const same = 0.05 // CIEDE2000
	tubes := doubtfulTubes(t)
	for i := range tubes {
		tubes[i].Doubt = doubt.Spread{Strength: 0.6}
	}
	before := nearestMixes(t, tubes, 0)
	for n := 1; n <= 5; n++ {
		for k, m := range nearestMixes(t, tubes, n) {
			if d := math.Abs(m.DE - before[k].DE); d > same {
				t.Errorf("box %d: colour %d moves from %.3f to %.3f", n, k, before[k].DE, m.DE)
			}
		}
	}
}

// In plausible boxes a palette still reaches most of what it reaches as it
// stands: the mixes change, the palette serves.
func TestReachMostlyHoldsInPlausibleBoxes(t *testing.T) {
	const boxes, mostly = 12, 0.80
	tubes := doubtfulTubes(t)
	before := nearestMixes(t, tubes, 0)
	asked, kept := 0, 0
	for n := 1; n <= boxes; n++ {
		for k, m := range nearestMixes(t, tubes, n) {
			if before[k].DE > reachWithin {
				continue
			}
			asked++
			if m.DE <= reachWithin {
				kept++
			}
		}
	}
	t.Logf("%d of %d colours stay within reach in %d boxes", kept, asked, boxes)
	if asked < 15*boxes || float64(kept) < mostly*float64(asked) {
		t.Errorf("%d of %d colours stay within reach", kept, asked)
	}
}
