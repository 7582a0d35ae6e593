package values

import (
	"errors"
	"math"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// Rectify lays the part of a picture between four corners flat, w by h pixels,
// undoing the perspective of a camera held askew.
func Rectify(p *photo.Picture, q Quad, w, h int) (*photo.Picture, error) {
	m, err := homography(q)
	if err != nil {
		return nil, err
	}
	out := &photo.Picture{Format: p.Format, FullW: p.FullW, FullH: p.FullH, W: w, H: h, Pix: make([]colour.LinearRGB, w*h)}
	for y := range h {
		for x := range w {
			out.Pix[y*w+x] = averageAt(p, m, float64(x), float64(y), 1/float64(w), 1/float64(h))
		}
	}
	return out, nil
}

// homography maps the unit square to the corners: x = (a u + b v + c) / (g u +
// h v + 1), y likewise with d, e, f; eight equations for eight unknowns.
func homography(q Quad) (m [8]float64, err error) {
	a := make(portable.Matrix, 8)
	for i, from := range Whole {
		u, v, to := from.X, from.Y, q[i]
		a[2*i] = []float64{u, v, 1, 0, 0, 0, -u * to.X, -v * to.X}
		a[2*i+1] = []float64{0, 0, 0, u, v, 1, -u * to.Y, -v * to.Y}
		m[2*i], m[2*i+1] = to.X, to.Y
	}
	if !a.Solve(m[:]) {
		return m, errors.New("the corners give no view")
	}
	return m, nil
}

// averageAt is the light that falls on one pixel of the flat picture: the mean
// of 3 by 3 places in it.
func averageAt(p *photo.Picture, m [8]float64, x, y, du, dv float64) (sum colour.LinearRGB) {
	const n = 3
	for i := range n {
		for j := range n {
			u, v := (x+(float64(i)+0.5)/n)*du, (y+(float64(j)+0.5)/n)*dv
			w := float64(m[6]*u) + float64(m[7]*v) + 1
			c := between(p, (float64(m[0]*u)+float64(m[1]*v)+m[2])/w, (float64(m[3]*u)+float64(m[4]*v)+m[5])/w)
			sum.R += c.R / (n * n)
			sum.G += c.G / (n * n)
			sum.B += c.B / (n * n)
		}
	}
	return sum
}

// between interpolates in linear light between the four pixels around a place.
func between(p *photo.Picture, fx, fy float64) colour.LinearRGB {
	x, y := float64(fx*float64(p.W))-0.5, float64(fy*float64(p.H))-0.5
	x0, y0 := int(math.Floor(x)), int(math.Floor(y))
	tx, ty := x-float64(x0), y-float64(y0)
	at := func(x, y int) colour.LinearRGB {
		return p.At(min(max(x, 0), p.W-1), min(max(y, 0), p.H-1))
	}
	mix := func(a, b colour.LinearRGB, t float64) colour.LinearRGB {
		return colour.LinearRGB{R: a.R + float64((b.R-a.R)*t), G: a.G + float64((b.G-a.G)*t), B: a.B + float64((b.B-a.B)*t)}
	}
	return mix(mix(at(x0, y0), at(x0+1, y0), tx), mix(at(x0, y0+1), at(x0+1, y0+1), tx), ty)
}
