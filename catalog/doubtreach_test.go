package catalog_test

import (
	"math"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// A palette that leans on estimated tubes, and colours of a shore in summer
// that it can mostly mix. Both are invented for the test.
var (
	doubtfulPalette = []string{"titanium-white", "cadmium-yellow-light", "yellow-ochre", "alizarin-crimson", "burnt-umber", "ultramarine-blue", "cerulean-blue"}
	shoreColours    = []colour.LCh{
		{L: 84, C: 8, H: 235}, {L: 72, C: 18, H: 255}, {L: 60, C: 24, H: 265}, {L: 78, C: 12, H: 85}, {L: 66, C: 24, H: 78}, {L: 52, C: 22, H: 72},
		{L: 40, C: 14, H: 65}, {L: 32, C: 8, H: 60}, {L: 62, C: 30, H: 108}, {L: 48, C: 24, H: 115}, {L: 40, C: 16, H: 125}, {L: 34, C: 10, H: 140},
		{L: 56, C: 10, H: 300}, {L: 45, C: 14, H: 320}, {L: 70, C: 6, H: 20}, {L: 50, C: 4, H: 100}, {L: 88, C: 22, H: 92}, {L: 76, C: 40, H: 98},
	}
)

const reachWithin = 2.5 // CIEDE2000

func mixerOf(t *testing.T, tubes []catalog.Tube) *gamut.Mixer {
	t.Helper()
	paints := make([]film.Paint, len(tubes))
	for i := range tubes {
		paints[i] = tubes[i].Paint
	}
	m, err := gamut.NewMixer(paints, gamut.Options{Surface: film.Dry})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func nearestMixes(m *gamut.Mixer) []gamut.Mix {
	var out []gamut.Mix
	for _, c := range shoreColours {
		out = append(out, m.Closest(c.Lab(), gamut.FullSet(m.Len()), gamut.Search))
	}
	return out
}

// If an estimated tube is wrong by as much as is thought possible, does a
// palette still reach what it reached? Strength must not matter at all, but for
// the parts, which change in proportion; the masstone and the slope of S may.
func TestReachHoldsUnderDoubt(t *testing.T) {
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
	before := nearestMixes(mixerOf(t, tubes))
	verdicts, lost, worst := 0, 0, 0.0
	for i, tube := range tubes {
		if tube.Basis != catalog.Estimated {
			continue
		}
		for _, d := range catalog.Doubts() {
			other := append([]catalog.Tube(nil), tubes...)
			other[i] = tube.Doubted(d)
			after := nearestMixes(mixerOf(t, other))
			if !d.ChangesReach() {
				sameReach(t, i, d, before, after)
				continue
			}
			for k := range after {
				if before[k].DE > reachWithin {
					continue
				}
				verdicts++
				worst = math.Max(worst, after[k].DE-before[k].DE)
				if after[k].DE > reachWithin {
					lost++
				}
			}
		}
	}
	t.Logf("%d verdicts, %d lost, at most %.2f farther", verdicts, lost, worst)
	if verdicts < 150 || lost*100 > 2*verdicts {
		t.Errorf("%d of %d colours reached are lost when a tube is off", lost, verdicts)
	}
}

// sameReach holds a change of strength to what it can change: the parts.
func sameReach(t *testing.T, tube int, d catalog.Doubt, before, after []gamut.Mix) {
	t.Helper()
	by := 2.0 // a tube of half the strength needs twice the parts
	if d == catalog.DoubleStrength {
		by = 0.5
	}
	for k := range after {
		if de := math.Abs(before[k].DE - after[k].DE); de > 0.05 {
			t.Errorf("%s: colour %d moves from %.3f to %.3f", d, k, before[k].DE, after[k].DE)
		}
		if before[k].DE < 0.01 { // several mixes may match exactly
			continue
		}
		was, is := ratio(before[k], tube), ratio(after[k], tube)
		if was > 0.05 && is > 0 && math.Abs(is/was/by-1) > 0.05 {
			t.Errorf("%s: colour %d takes %.3f to the rest instead of %.3f", d, k, is, was*by)
		}
	}
}

// ratio of one paint to the rest of a mix, by volume; 0 if it is not in it or
// alone.
func ratio(m gamut.Mix, paint int) float64 {
	for i, p := range m.Paints {
		if p == paint && m.Shares[i] < 1 {
			return m.Shares[i] / (1 - m.Shares[i])
		}
	}
	return 0
}
