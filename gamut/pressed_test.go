package gamut

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
)

// kit is a white, a yellow, a red, a blue and up to two more.
func kit(t *testing.T, names []string, rng *rand.Rand) []int {
	palette := named(t, names, "titanium white")
	for _, some := range [][]string{{"bismuth vanadate yellow", "hansa (arylide) yellow opaque", "diarylide yellow"}, {"pyrrole orange", "cadmium red light", "pyrrole red", "quinacridone red", "quinacridone magenta"}, {"phthalo blue red shade", "phthalo blue green shade", "cobalt blue", "ultramarine blue", "cerulean blue (cobalt chromium)"}} {
		palette = append(palette, named(t, names, some[rng.IntN(len(some))])...)
	}
	for range rng.IntN(3) {
		palette = append(palette, rng.IntN(len(names)))
	}
	slices.Sort(palette)
	return slices.Compact(palette)
}

// In 200 seeded scenes, each of 14 colours and a few acrylics with measured K and S,
// all colours are within reach afterwards, none that was within reach has moved,
// and chroma keeps its order within each family of hue.
func TestPressed(t *testing.T) {
	const scenes, colours, tolerance = 200, 14, 3.0
	const mayMove = 0.5 // CIEDE2000, of what is within reach
	names, paints := acrylics(t)
	m := mustMixer(t, paints, Options{Surface: film.Dry})
	rng := rand.New(rand.NewPCG(24, 1))
	var pressed, pairs, disordered, shifted, wide, merged, scenesOut int
	var furthest float64
	for range scenes {
		palette := set.Of(m.Len(), kit(t, names, rng)...)
		dark, light := m.Closest(colour.Lab{}, palette, Search).Lab.L, m.Closest(colour.Lab{L: 100}, palette, Search).Lab.L
		var wanted []Wanted
		for range colours {
			c := colour.LCh{L: dark + rng.Float64()*(light-dark), C: 70 * rng.Float64() * rng.Float64(), H: 360 * rng.Float64()}
			if rng.IntN(2) == 0 {
				c.H = 90 + 60*rng.Float64() // a landscape has many greens
			}
			wanted = append(wanted, Wanted{c.Lab(), tolerance})
		}
		got := m.Pressed(wanted, palette)
		out := 0
		for i, w := range wanted {
			if _, ok := m.Within(got[i], palette, tolerance, Search); !ok {
				t.Errorf("%v became %v, which is out of reach", w.Lab, got[i])
			}
			if _, was := m.Within(w.Lab, palette, tolerance, Search); was {
				furthest = max(furthest, colour.DE2000(w.Lab, got[i]))
			} else {
				pressed++
				if math.Abs(got[i].L-w.Lab.L) > 1e-9 {
					shifted++
				}
			}
			for j, other := range wanted {
				if colour.Name(w.Lab).Hue != colour.Name(other.Lab).Hue || w.Lab.LCh().C <= other.Lab.LCh().C {
					continue
				}
				if was := w.Lab.LCh().C - other.Lab.LCh().C; was >= 5 && got[i] != w.Lab && got[j] != other.Lab {
					wide++
					if got[i].LCh().C-got[j].LCh().C < 0.1 {
						merged++
					}
				}
				pairs++
				if got[i].LCh().C < got[j].LCh().C-1e-9 {
					out++
				}
			}
		}
		if out > 0 {
			scenesOut++
			disordered += out
		}
	}
	t.Logf("%d pressed, lightness moved of %d; of %d pairs pressed that were 5 apart %d fell together; %d of %d pairs out of order, in %d scenes; what was reached moved by %.3f", pressed, shifted, wide, merged, disordered, pairs, scenesOut, furthest)
	if furthest > mayMove || disordered > 0 || pressed < 100 {
		t.Error("see above")
	}
}
