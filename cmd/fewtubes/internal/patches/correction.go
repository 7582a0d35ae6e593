package patches

import (
	"math"
	"slices"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// Correction is how what a camera saw is taken to linear sRGB.
type Correction int

const (
	Gains  Correction = iota // one number for each of red, green and blue
	Matrix                   // three by three
	Roots                    // three by six: the square roots of their products as well
)

// terms that each of red, green and blue is a sum of.
func (c Correction) terms() int { return [...]int{1, 3, 6}[c] }

// correction holds the numbers.
type correction struct {
	Correction
	by [3][6]float64
}

// Known patches for each correction: so many, and of those so many with a colour.
var leastKnown = [...]struct{ patches, coloured int }{{1, 0}, {8, 5}, {18, 12}}

const coloured = 10.0 // C*

// clearlyBetter is what a correction of more numbers must miss the patches left out by,
// times what the one of fewer does.
const clearlyBetter = 0.9

// newCorrection is the correction that misses the patches left out in turn by least, in the
// middle: misses are those.
func newCorrection(known []seen, targets [][3]float64) (c correction, misses []float64, ok bool) {
	hues := 0
	for _, t := range targets {
		if labOf(t).LCh().C > coloured {
			hues++
		}
	}
	for kind, least := range leastKnown {
		if len(known) < least.patches || hues < least.coloured {
			break
		}
		next, fits := fitted(Correction(kind), known, targets)
		if !fits {
			continue
		}
		missed := next.misses(known, targets)
		if !ok || kind == int(Matrix) || middle(missed) < clearlyBetter*middle(misses) {
			c, misses, ok = next, missed, true
		}
	}
	return c, misses, ok
}

func middle(v []float64) float64 {
	v = slices.Sorted(slices.Values(v))
	return v[len(v)/2]
}

// fitted finds the numbers of least squares, each patch weighted so that equal shares of a
// colour count alike in the darks and in the lights, about as the eye has it.
func fitted(kind Correction, known []seen, targets [][3]float64) (c correction, ok bool) {
	c.Correction = kind
	for k := range c.by {
		system, right := portable.NewMatrix(kind.terms()), make([]float64, kind.terms())
		for i, s := range known {
			w, terms := weight(targets[i]), c.termsOf(k, s.rgb)
			for a, v := range terms {
				right[a] += float64(w * v * targets[i][k])
				for b, u := range terms {
					system[a][b] += float64(w * v * u)
				}
			}
		}
		if !system.Solve(right) {
			return c, false
		}
		for a, v := range right {
			if math.IsNaN(v) || math.Abs(v) > 1e3 {
				return c, false
			}
			c.by[k][a] = v
		}
	}
	return c, true
}

// termsOf are what component k is a sum of. The roots of products grow with the exposure as the
// colours do (G. Finlayson, M. Mackiewicz, A. Hurlbert, IEEE Trans. Image Process. 24:1460, 2015).
func (c Correction) termsOf(k int, rgb [3]float64) []float64 {
	r, g, b := max(rgb[0], 0), max(rgb[1], 0), max(rgb[2], 0)
	switch c {
	case Gains:
		return rgb[k : k+1]
	case Matrix:
		return rgb[:]
	}
	return []float64{rgb[0], rgb[1], rgb[2], math.Sqrt(r * g), math.Sqrt(g * b), math.Sqrt(b * r)}
}

// weight is the square of the slope of a cube root of the patch's Y, about that of L*.
func weight(t [3]float64) float64 {
	y := max(luminous(colour.LinearRGB{R: t[0], G: t[1], B: t[2]}), 0.01)
	root := portable.Cbrt(y)
	return 1 / (y * root)
}

func labOf(rgb [3]float64) colour.Lab {
	return colour.LinearRGB{R: rgb[0], G: rgb[1], B: rgb[2]}.Lab()
}

func (c *correction) lab(rgb [3]float64) colour.Lab {
	var out [3]float64
	for k := range out {
		for a, v := range c.termsOf(k, rgb) {
			out[k] += float64(c.by[k][a] * v)
		}
	}
	return labOf(out)
}

// misses are those of the known patches, each put right by the others where they suffice.
func (c *correction) misses(known []seen, targets [][3]float64) (out []float64) {
	for i := range known {
		by := *c
		if len(known) > c.terms() {
			others := append(append([]seen(nil), known[:i]...), known[i+1:]...)
			of := append(append([][3]float64(nil), targets[:i]...), targets[i+1:]...)
			if without, ok := fitted(c.Correction, others, of); ok {
				by = without
			}
		}
		out = append(out, colour.DE2000(by.lab(known[i].rgb), labOf(targets[i])))
	}
	return out
}
