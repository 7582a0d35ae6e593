package main

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"

	"fewtubes/gamut/colour"
)

// canvas is wet paint: linear light, so that strokes blend as light does.
type canvas struct {
	w, h   int
	pix    []colour.LinearRGB
	random *rand.Rand
}

func newCanvas(w, h int, seed uint64) *canvas {
	return &canvas{w, h, make([]colour.LinearRGB, w*h), rand.New(rand.NewPCG(seed, 1))}
}

// stroke is one touch of a flat brush; lengths in pixels, angle in radians.
type stroke struct {
	x, y          float64
	length, width float64
	angle         float64
	colour        colour.Lab
	load          float64 // opacity at the start, 0..1; the brush runs dry along the way
}

// lay puts a stroke down, streaked along by its bristles.
func (c *canvas) lay(s stroke) {
	sin, cos := math.Sincos(s.angle)
	reach := s.length/2 + s.width
	streak := c.bristles(s.width)
	tones := make([]colour.LinearRGB, len(streak))
	for i, b := range streak {
		tone := s.colour
		tone.L += 2.2 * (b - 0.5)
		tones[i] = tone.SRGB().Linear()
	}
	for y := max(0, int(s.y-reach)); y <= min(c.h-1, int(s.y+reach)); y++ {
		for x := max(0, int(s.x-reach)); x <= min(c.w-1, int(s.x+reach)); x++ {
			dx, dy := float64(x)-s.x, float64(y)-s.y
			u, v := (dx*cos+dy*sin)/(s.length/2+s.width/2), (dy*cos-dx*sin)/(s.width/2)
			u2, v2 := u*u, v*v
			edge := 1 - u2*u2*u2 - v2*v2
			if edge <= 0 {
				continue
			}
			hair := int((v+1)/2*float64(len(streak)-1) + 0.5)
			alpha := s.load * min(1, 2.5*edge) * (1 - 0.35*(u+1)/2) * (0.75 + 0.25*streak[hair])
			p, over := &c.pix[y*c.w+x], tones[hair]
			p.R += (over.R - p.R) * alpha
			p.G += (over.G - p.G) * alpha
			p.B += (over.B - p.B) * alpha
		}
	}
}

// bristles are the loads of the hairs across a brush.
func (c *canvas) bristles(width float64) []float64 {
	b := make([]float64, max(2, int(width*0.8)))
	for i := range b {
		b[i] = c.random.Float64()
	}
	return b
}

// ground tones the whole canvas after a view, so that no gap stays bare.
func (c *canvas) ground(see view) {
	for i := range c.pix {
		tone, _, _ := see((float64(i%c.w)+0.5)/float64(c.w), (float64(i/c.w)+0.5)/float64(c.h))
		c.pix[i] = tone.SRGB().Linear()
	}
}

// near varies a colour as a painter's mixes vary.
func (c *canvas) near(p colour.Lab, by float64) colour.Lab {
	r := func() float64 { return (c.random.Float64() + c.random.Float64() - 1) * by }
	return colour.Lab{L: p.L + r(), A: p.A + 0.6*r(), B: p.B + 0.6*r()}
}

func (c *canvas) image() image.Image {
	img := image.NewRGBA(image.Rect(0, 0, c.w, c.h))
	for i, p := range c.pix {
		v := p.SRGB().RGB8()
		img.SetRGBA(i%c.w, i/c.w, color.RGBA{v[0], v[1], v[2], 255})
	}
	return img
}

// view says what there is at a point: its colour, which way a stroke goes
// there, and how large a stroke may be, 1 the largest.
type view func(x, y float64) (tone colour.Lab, angle, size float64)

// cover paints the whole canvas after a view with strokes of one size.
func (c *canvas) cover(see view, length, width, load, vary float64) {
	step := width * 0.8
	type place struct{ x, y float64 }
	var places []place
	for y := 0.0; y < float64(c.h); y += step {
		for x := 0.0; x < float64(c.w); x += length * 0.45 {
			places = append(places, place{x + (c.random.Float64()-0.5)*length, y + (c.random.Float64()-0.5)*step*2})
		}
	}
	c.random.Shuffle(len(places), func(i, j int) { places[i], places[j] = places[j], places[i] })
	for _, p := range places {
		tone, angle, size := see(p.x/float64(c.w), p.y/float64(c.h))
		c.lay(stroke{
			x: p.x, y: p.y, length: length * size, width: max(1.5, width*size),
			angle: angle + 0.25*(c.random.Float64()-0.5), colour: c.near(tone, vary), load: load,
		})
	}
}
