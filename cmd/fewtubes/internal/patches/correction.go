package patches

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// correction takes what the camera saw to linear sRGB.
type correction struct {
	by     [3][3]float64
	matrix bool
}

// Known patches for three by three numbers: so many, and of those so many with a colour.
const (
	leastForMatrix = 8
	leastColoured  = 5
	coloured       = 10.0 // C*
)

// newCorrection finds the numbers of least squares, each patch weighted so that equal shares of a
// colour count alike in the darks and in the lights, about as the eye has it.
func newCorrection(known []seen, targets [][3]float64) (c correction, ok bool) {
	hues := 0
	for _, t := range targets {
		if labOf(t).LCh().C > coloured {
			hues++
		}
	}
	c.matrix = len(known) >= leastForMatrix && hues >= leastColoured
	for k := range 3 {
		if c.matrix {
			system, right := portable.NewMatrix(3), make([]float64, 3)
			for i, s := range known {
				w := weight(targets[i])
				for a := range 3 {
					right[a] += float64(w * s.rgb[a] * targets[i][k])
					for b := range 3 {
						system[a][b] += float64(w * s.rgb[a] * s.rgb[b])
					}
				}
			}
			if !system.Solve(right) {
				return c, false
			}
			copy(c.by[k][:], right)
			continue
		}
		above, below := 0.0, 0.0
		for i, s := range known {
			w := weight(targets[i])
			above += float64(w * s.rgb[k] * targets[i][k])
			below += float64(w * s.rgb[k] * s.rgb[k])
		}
		if !(below > 0) {
			return c, false
		}
		c.by[k][k] = above / below
	}
	for _, row := range c.by {
		for _, v := range row {
			if math.IsNaN(v) || math.Abs(v) > 1e3 {
				return c, false
			}
		}
	}
	return c, true
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
		for a, v := range rgb {
			out[k] += float64(c.by[k][a] * v)
		}
	}
	return labOf(out)
}

// misses are those of the known patches, each put right by the others where they suffice.
func (c *correction) misses(known []seen, targets [][3]float64) (out []float64) {
	for i := range known {
		by := *c
		if len(known) > 1 {
			others := append(append([]seen(nil), known[:i]...), known[i+1:]...)
			of := append(append([][3]float64(nil), targets[:i]...), targets[i+1:]...)
			if without, ok := newCorrection(others, of); ok && without.matrix == c.matrix {
				by = without
			}
		}
		out = append(out, colour.DE2000(by.lab(known[i].rgb), labOf(targets[i])))
	}
	return out
}
