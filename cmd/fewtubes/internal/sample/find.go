package sample

import (
	"math"
	"slices"

	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
)

// spotRadius is that of the place a target is shown at, a fraction of the width.
const spotRadius = 0.012

// find looks for the place whose pixels are on the whole nearest to a target,
// in the plane it belongs to.
func find(views []*view, t *scene.Target) *scene.Spot {
	want, plane := even(t.Lab), int8(slices.Index(scene.Planes, t.Plane))
	best := math.Inf(1)
	var spot *scene.Spot
	for _, v := range views {
		w, h := v.source.Picture.W, v.source.Picture.H
		r := max(1, int(math.Round(spotRadius*float64(w))))
		sum := newSums(w, h, func(i int) float64 {
			if v.plane[i] != plane || v.source.cover(i) < 0.5 {
				return farOff
			}
			return math.Min(math.Sqrt(distance2(even(v.lab[i]), want)), farOff)
		})
		for y := inset(r, h); y < h-inset(r, h); y++ {
			for x := inset(r, w); x < w-inset(r, w); x++ {
				if d := sum.mean(x, y, r); d < best {
					best = d
					spot = &scene.Spot{
						Photo: v.source.Name, Radius: spotRadius,
						X: thousandth((float64(x) + 0.5) / float64(w)), Y: thousandth((float64(y) + 0.5) / float64(h)),
					}
				}
			}
		}
	}
	return spot
}

// inset keeps the whole spot inside, in all but the smallest pictures.
func inset(r, size int) int { return min(r, (size-1)/2) }

// farOff is the distance beyond which a pixel is simply wrong.
const farOff = 40.0

// sums is a table of sums over all upper left rectangles (Crow, SIGGRAPH 1984).
type sums struct {
	w, h int
	s    []float64
}

func newSums(w, h int, value func(i int) float64) sums {
	t := sums{w, h, make([]float64, (w+1)*(h+1))}
	for y := range h {
		var row float64
		for x := range w {
			row += value(y*w + x)
			t.s[(y+1)*(w+1)+x+1] = t.s[y*(w+1)+x+1] + row
		}
	}
	return t
}

// mean over the square of radius r around a pixel, as far as it lies inside.
func (t sums) mean(x, y, r int) float64 {
	x0, x1 := max(0, x-r), min(t.w, x+r+1)
	y0, y1 := max(0, y-r), min(t.h, y+r+1)
	at := func(x, y int) float64 { return t.s[y*(t.w+1)+x] }
	return (at(x1, y1) - at(x0, y1) - at(x1, y0) + at(x0, y0)) / float64((x1-x0)*(y1-y0))
}

func thousandth(v float64) float64 { return math.Round(v*1000) / 1000 }

// rounded is the curve as it is written down.
func rounded(c *values.Curve) *values.Curve {
	if c == nil {
		return nil
	}
	out := *c
	for i := range out.From {
		out.From[i], out.To[i] = tenth(out.From[i]), tenth(out.To[i])
	}
	return &out
}
