package sample

import (
	"context"
	"math"
	"slices"

	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/portable"
)

// view is a picture as it is to be painted: CIELAB after any move of values.
type view struct {
	source Source
	curve  *values.Curve
	lab    []colour.Lab
	plane  []int8  // index into scene.Planes, -1 none
	point  []int32 // each pixel was gathered in, -1 none
}

// look is the view of a source, of no use once the context has ended.
func look(ctx context.Context, s Source, o Options) *view {
	v := &view{source: s, lab: make([]colour.Lab, len(s.Picture.Pix)), plane: make([]int8, len(s.Picture.Pix))}
	parallel.Each((len(v.lab)+somePixels-1)/somePixels, func(k int) {
		for i := k * somePixels; i < min((k+1)*somePixels, len(v.lab)) && ctx.Err() == nil; i++ {
			v.lab[i] = s.Picture.Pix[i].Lab()
		}
	})
	if ctx.Err() != nil {
		return v
	}
	switch {
	case o.Curve != nil:
		v.curve = o.Curve
	case o.FitValues:
		v.curve = rounded(v.paintRange())
	}
	planes := s.planes(&o)
	for i := range v.lab {
		if v.curve != nil {
			v.lab[i].L = v.curve.At(v.lab[i].L)
		}
		x, y := s.place(i)
		v.plane[i] = int8(slices.Index(scene.Planes, scene.PlaneAt(planes, x, y)))
	}
	return v
}

// paintRange is the curve that brings the darkest and lightest values of the
// picture into what paint shows; nil when they lie within it already.
func (v *view) paintRange() *values.Curve {
	all := make([]float64, 0, len(v.lab))
	for i, c := range v.lab {
		if v.source.cover(i) > 0.5 {
			all = append(all, c.L)
		}
	}
	return values.ToPaint(values.Extremes(all))
}

// point is a small box of like colours in one plane.
type point struct {
	at     [3]float64 // in the space of even
	lab    colour.Lab
	area   float64 // part of the picture, the pictures sum to 1
	weight float64 // say in where the colours fall
	plane  int8
}

// even puts CIELAB into a space where equal distances look about equally far:
// chroma is compressed as in CIE94 (CIE 116-1995: SC = 1 + 0.045 C), which its
// logarithm integrates.
func even(c colour.Lab) [3]float64 {
	p := c.LCh()
	r := portable.Log1p(0.03*p.C) / 0.03
	sin, cos := portable.Sincos(p.H * math.Pi / 180)
	return [3]float64{c.L, r * cos, r * sin}
}

func distance2(a, b [3]float64) float64 {
	d0, d1, d2 := a[0]-b[0], a[1]-b[1], a[2]-b[2]
	return float64(d0*d0) + float64(d1*d1) + float64(d2*d2)
}

// box is the side of the cells, in the space of even, that pixels are gathered in to be
// parted among targets: about a just visible difference.
const box = 2.0

// somePixels is the number of pixels after which the context is looked at.
const somePixels = 1 << 14

// gather turns the pictures into points, cells of some side, in a fixed order.
func gather(ctx context.Context, views []*view, side float64) []point {
	type key struct {
		cell  [3]int16
		plane int8
	}
	index := map[key]int{}
	var points []point
	for _, v := range views {
		var whole float64
		for i := range v.lab {
			whole += v.source.cover(i)
		}
		v.point = make([]int32, len(v.lab))
		for i, c := range v.lab {
			if i%somePixels == 0 && ctx.Err() != nil {
				return nil
			}
			v.point[i] = -1
			share := v.source.cover(i) / (whole * float64(len(views)))
			if share == 0 {
				continue
			}
			e := even(c)
			k := key{plane: v.plane[i]}
			for j := range e {
				k.cell[j] = int16(math.Floor(e[j] / side))
			}
			n, ok := index[k]
			if !ok {
				n = len(points)
				index[k] = n
				points = append(points, point{plane: v.plane[i]})
			}
			points[n].add(c, share)
			v.point[i] = int32(n)
		}
	}
	for i := range points {
		points[i].finish()
	}
	return points
}

func (p *point) add(c colour.Lab, share float64) {
	p.lab.L += float64(share * c.L)
	p.lab.A += float64(share * c.A)
	p.lab.B += float64(share * c.B)
	p.area += share
}

// accent is the power by which area weighs in the choice of colours: 1 would
// give every target to the large masses, 0 to every speck.
const accent = 0.5

func (p *point) finish() {
	p.lab.L /= p.area
	p.lab.A /= p.area
	p.lab.B /= p.area
	p.at = even(p.lab)
	p.weight = portable.Pow(p.area, accent)
}
