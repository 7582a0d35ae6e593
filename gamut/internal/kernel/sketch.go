package kernel

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

const (
	// Sketched is the most paints in a mixture that is sketched.
	Sketched = 4
	// SketchError is how far each of L*, a* and b* of a sketch may be off.
	SketchError = 0.05

	// Abreast mixtures are sketched at once.
	Abreast = 8

	leastK = 1e-12 // so that there is a root to be taken
)

// Volumes are those of paints in eight mixtures side by side.
type Volumes [Sketched][Abreast]float32

// SideBySide puts mixtures side by side, the last of them until the eight are full.
func SideBySide(mixtures [][Sketched]float32) []Volumes {
	out := make([]Volumes, (len(mixtures)+Abreast-1)/Abreast)
	for i := range len(out) * Abreast {
		for p, v := range mixtures[min(i, len(mixtures)-1)] {
			out[i/Abreast][p][i%Abreast] = v
		}
	}
	return out
}

// sketch is a paint in single precision.
type sketch struct{ k, s [colour.Bands]float32 }

// sketchOptics are Optics in single precision.
type sketchOptics struct {
	rest   float32 // 1 - K2
	base   [3]float32
	weight [3][colour.Bands]float32
}

// Sketcher tells the colours of mixtures roughly, some four times as fast as a Point
// does, for those who look for the few among many that lie somewhere. It serves any
// number of goroutines.
type Sketcher struct {
	paints []sketch
	optics sketchOptics
}

// NewSketcher is of these paints, seen as a Point sees them.
func NewSketcher(paints []film.Paint, o *Optics) *Sketcher {
	out := &Sketcher{paints: make([]sketch, len(paints))}
	for i := range paints {
		p := &out.paints[i]
		for b := range p.k {
			p.k[b] = max(float32(paints[i].K[b]), leastK)
			p.s[b] = float32(paints[i].S[b])
		}
	}
	out.optics.rest = float32(1 - o.k2)
	for i := range o.weight {
		out.optics.base[i] = float32(o.base[i])
		for b, w := range o.weight[i] {
			out.optics.weight[i][b] = float32(w)
		}
	}
	return out
}

// Labs sketches mixtures of the same one to four paints: volumes of each on any common scale,
// those of places without a paint 0. L*, a*, b* of eight side by side go to dst.
func (s *Sketcher) Labs(dst []Sketches, paints []int, volumes []Volumes) {
	var used [Sketched]*sketch
	for i := range used {
		used[i] = &s.paints[paints[min(i, len(paints)-1)]]
	}
	for i := range volumes {
		sketchEight(&dst[i], &volumes[i], &used, &s.optics)
	}
}

// Sketches are L*, a*, b* of eight mixtures side by side.
type Sketches [3][Abreast]float32

// sketchGeneric is the eight in plain Go.
func sketchGeneric(dst *Sketches, volumes *Volumes, paints *[Sketched]*sketch, o *sketchOptics) {
	for i := range Abreast {
		sum := o.base
		for b := range colour.Bands {
			var k, s float32
			for j, p := range paints {
				k += float32(volumes[j][i] * p.k[b])
				s += float32(volumes[j][i] * p.s[b])
			}
			root := float32(math.Sqrt(float64(k * (k + s + s))))
			seen := s / (k + root + float32(o.rest*s))
			for j := range sum {
				sum[j] += float32(seen * o.weight[j][b])
			}
		}
		x, _ := labF(float64(sum[0]))
		y, _ := labF(float64(sum[1]))
		z, _ := labF(float64(sum[2]))
		dst[0][i], dst[1][i], dst[2][i] = float32(float64(116*y)-16), float32(500*(x-y)), float32(200*(y-z))
	}
}

// Of is one of the mixtures, counted through all eights.
func Of(all []Sketches, i int) [3]float32 {
	s := &all[i/Abreast]
	return [3]float32{s[0][i%Abreast], s[1][i%Abreast], s[2][i%Abreast]}
}
