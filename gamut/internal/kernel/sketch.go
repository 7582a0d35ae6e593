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

	sketchBands = (colour.Bands + 7) / 8 * 8
)

// sketch is a paint in single precision, eight bands to a step; bands that pad the
// last step have no weight.
type sketch struct{ k, s [sketchBands]float32 }

// sketchOptics are Optics in single precision.
type sketchOptics struct {
	rest   [8]float32 // 1 - K2
	weight [3][sketchBands]float32
}

// Sketcher tells the colours of mixtures roughly, some four times as fast as a Point
// does, for those who look for the few among many that lie somewhere. It serves any
// number of goroutines.
type Sketcher struct {
	paints []sketch
	optics sketchOptics
	base   [3]float32
}

// NewSketcher is of these paints, seen as a Point sees them.
func NewSketcher(paints []film.Paint, o *Optics) *Sketcher {
	out := &Sketcher{paints: make([]sketch, len(paints))}
	for i := range paints {
		p := &out.paints[i]
		for b := range p.k {
			p.k[b], p.s[b] = 1, 1
			if b < colour.Bands {
				p.k[b], p.s[b] = float32(paints[i].K[b]), float32(paints[i].S[b])
			}
		}
	}
	for i := range out.optics.rest {
		out.optics.rest[i] = float32(1 - o.k2)
	}
	for i := range o.weight {
		out.base[i] = float32(o.base[i])
		for b, w := range o.weight[i] {
			out.optics.weight[i][b] = float32(w)
		}
	}
	return out
}

// Labs sketches mixtures of the same one to four paints: volumes of each on any common scale,
// those of places without a paint 0. L*, a*, b* go to dst.
func (s *Sketcher) Labs(dst [][3]float32, paints []int, volumes [][Sketched]float32) {
	var used [Sketched]*sketch
	for i := range used {
		used[i] = &s.paints[paints[min(i, len(paints)-1)]]
	}
	dst = dst[:len(volumes)]
	sketchBandsOf(dst, volumes, &used, &s.optics)
	for i := range dst {
		t := &dst[i]
		x, y, z := sketchF(t[0]+s.base[0]), sketchF(t[1]+s.base[1]), sketchF(t[2]+s.base[2])
		t[0], t[1], t[2] = 116*y-16, 500*(x-y), 200*(y-z)
	}
}

// sketchGeneric fills dst with what is seen of each mixture.
func sketchGeneric(dst [][3]float32, volumes [][Sketched]float32, paints *[Sketched]*sketch, o *sketchOptics) {
	for i := range volumes {
		v := &volumes[i]
		var sum [3]float32
		for b := range sketchBands {
			var k, s float32
			for j, p := range paints {
				k += v[j] * p.k[b]
				s += v[j] * p.s[b]
			}
			root := float32(math.Sqrt(float64(k * (k + s + s))))
			seen := s / (k + root + o.rest[0]*s)
			for j := range sum {
				sum[j] += seen * o.weight[j][b]
			}
		}
		dst[i] = sum
	}
}

// fSteps is how finely CIELAB's f is laid out: between, lines are off by 4e-6 at most.
const fSteps = 4096

// fTable is f of 0, 1/fSteps, ... up to a fifth above a perfect white.
var fTable = func() (t [fSteps*6/5 + 2]float32) {
	for i := range t {
		f, _ := labF(float64(i) / fSteps)
		t[i] = float32(f)
	}
	return t
}()

func sketchF(t float32) float32 {
	at := t * fSteps
	i := min(max(int(at), 0), len(fTable)-2)
	return fTable[i] + (at-float32(i))*(fTable[i+1]-fTable[i])
}
