package kernel

import (
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/samples"
)

// A sketch is as near to the colour as it says, by either loop.
func TestSketchIsNear(t *testing.T) {
	_, films := samples.Acrylics(t, "../../testdata/acrylics.csv")
	paints, optics := loopPaints(t)
	rng := rand.New(rand.NewPCG(36, 6))
	for _, o := range []Optics{optics, NewOptics(film.Dry.Viewed(film.NoGlare), colour.D65())} {
		s := NewSketcher(films, &o)
		worst := 0.0
		for range 1000 {
			list := samples.Palette(len(paints), 1, Sketched, rng)
			var volumes [11][Sketched]float32
			amounts := make([][]float64, len(volumes))
			for i := range volumes {
				for j := range list {
					volumes[i][j] = float32(1 + rng.IntN(32))
					_, scale := Scaled(&films[list[j]])
					amounts[i] = append(amounts[i], float64(volumes[i][j])*scale)
				}
			}
			side := SideBySide(volumes[:])
			wide, plain := make([]Sketches, len(side)), make([]Sketches, len(side))
			s.Labs(wide, list, side)
			var used [Sketched]*sketch
			for i := range used {
				used[i] = &s.paints[list[min(i, len(list)-1)]]
			}
			for i := range side {
				sketchGeneric(&plain[i], &side[i], &used, &s.optics)
			}
			for i := range volumes {
				var p Point
				p.Mix(paints, list, amounts[i])
				p.Colour(&o)
				for j, v := range [3]float64{p.Lab.L, p.Lab.A, p.Lab.B} {
					worst = max(worst, math.Abs(v-float64(Of(wide, i)[j])), math.Abs(v-float64(Of(plain, i)[j])))
				}
			}
		}
		if worst > SketchError/2 {
			t.Errorf("sketches are off by up to %v", worst)
		}
	}
}

func BenchmarkSketch(b *testing.B) {
	_, films := samples.Acrylics(b, "../../testdata/acrylics.csv")
	o := NewOptics(film.Dry, colour.D65())
	s := NewSketcher(films, &o)
	volumes := make([][Sketched]float32, 1000)
	for i := range volumes {
		volumes[i] = [4]float32{4, 8, float32(i), 1}
	}
	dst, side := make([]Sketches, 125), SideBySide(volumes)
	for b.Loop() {
		s.Labs(dst, []int{1, 2, 3, 4}, side)
	}
}
