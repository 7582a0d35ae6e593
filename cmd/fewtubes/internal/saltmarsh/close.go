package main

import (
	"image"
	"math"

	"fewtubes/gamut/colour"
)

// paintClose looks down at the edge of a pool: mud, samphire, sea lavender,
// cord-grass and the wrack above them.
func paintClose() image.Image {
	c := newCanvas(1000, 800, 23)
	c.ground(seeClose)
	c.cover(seeClose, 120, 38, 0.95, 5)
	c.cover(seeClose, 60, 18, 0.85, 5)
	c.cover(seeClose, 30, 8, 0.8, 4)
	c.tangle()
	c.tufts()
	c.clumps()
	return c.image()
}

func seeClose(x, y float64) (tone colour.Lab, angle, size float64) {
	pool := 0.62*(x-0.15) + 0.30 + 0.10*math.Sin(5*x+1) - y
	pool = -pool - 0.12 + 0.18*(clouds(x*4, y*4)-0.5)
	switch wrack := wrackAt(x, y); {
	case pool > 0.16: // the pool, sky in it
		ripple := clouds(x*6, y*26)
		tone = blend(blend(waterLight, skyZenith, step(0.16, 0.5, pool)), waterDeep, step(0.5, 0.66, ripple))
		return tone, 0.03, 0.8
	case pool > 0.03: // its wet margin
		tone = blend(mudBank, mudWet, step(0.03, 0.12, pool))
		tone = blend(tone, mudShine, 0.85*step(0.52, 0.62, clouds(x*14, y*20)))
		return tone, 0.5, 0.7
	case wrack > 0:
		return blend(mudDark, wrackDark, wrack), -0.4, 0.6
	}
	tone = blend(mudWet, mudBank, step(0.40, 0.62, clouds(x*7+5, y*9)))
	tone = blend(tone, blend(grassDark, marshShade, 0.5), 0.7*step(0.46, 0.6, clouds(x*5+20, y*5)))
	return tone, 0.4 * (noise(x*4, y*4) - 0.5), 0.9
}

// wrackAt is how thick the wrack lies, 0..1.
func wrackAt(x, y float64) float64 {
	line := 0.16 + 0.22*x + 0.03*math.Sin(8*x)
	return 1 - step(0, 0.06+0.05*noise(x*6, 2), math.Abs(y-line))
}

// tangle lays weed and straw along the wrack.
func (c *canvas) tangle() {
	for range 9000 {
		x, y := c.random.Float64(), c.random.Float64()*0.6
		if wrackAt(x, y) < 0.25+0.4*c.random.Float64() {
			continue
		}
		tone, long, wide := wrackDark, 34.0, 5.0
		switch r := c.random.Float64(); {
		case r < 0.25:
			tone, long, wide = wrackStraw, 52, 2.6
		case r < 0.28:
			tone, long, wide = shell, 9, 6
		case r < 0.45:
			tone = mudBank
		case r < 0.52:
			tone = marshGold
		}
		c.lay(stroke{x: x * float64(c.w), y: y * float64(c.h), length: long * (0.4 + c.random.Float64()), width: wide,
			angle: 0.25 + 1.6*(c.random.Float64()-0.5), colour: c.near(tone, 5), load: 0.92})
	}
}

// tufts are cord-grass seen from near, rising behind the wrack at the top left
// and at the right.
func (c *canvas) tufts() {
	for range 5200 {
		x, y := c.random.Float64(), 0.95*c.random.Float64()
		if clouds(x*4+70, y*4) < 0.52 || y > 0.30+0.75*x*x && x < 0.62 || seePool(x, y) {
			continue
		}
		tone := blend(grassMid, grassSun, step(0.3, 0.8, c.random.Float64()))
		switch r := c.random.Float64(); {
		case r < 0.28:
			tone = grassDark
		case r < 0.40:
			tone = marshGold
		}
		long := 46 * (0.6 + 0.9*c.random.Float64())
		c.lay(stroke{x: x * float64(c.w), y: y*float64(c.h) - long/2, length: long, width: 3.4,
			angle: -math.Pi/2 + 0.8*(c.random.Float64()-0.4), colour: c.near(tone, 5), load: 0.92})
	}
}

func seePool(x, y float64) bool {
	tone, _, size := seeClose(x, y)
	return size == 0.8 || size == 0.7 && tone.L > 50
}

// clumps are samphire in mats, red and green, with sea lavender between them.
func (c *canvas) clumps() {
	for range 30000 {
		x, y := c.random.Float64(), 0.22+0.78*c.random.Float64()
		mat := clouds(x*5+120, y*6)
		if mat < 0.53 || seePool(x, y) || wrackAt(x, y) > 0.3 {
			continue
		}
		ripe := step(0.42, 0.62, clouds(x*5+200, y*5))
		tone := blend(samphireGreen, grassMid, 0.6*c.random.Float64())
		if c.random.Float64() < 0.10+0.8*ripe {
			tone = blend(samphireRed, samphireRose, c.random.Float64())
		}
		switch r := c.random.Float64(); {
		case r < 0.16:
			tone = blend(grassDark, mudDark, c.random.Float64())
		case r < 0.30:
			tone = blend(tone, mudDark, 0.55)
		}
		if clouds(x*7+300, y*9) > 0.63 && c.random.Float64() < 0.5 {
			tone = seaLavender
		}
		size := 0.4 + 0.8*c.random.Float64()
		c.lay(stroke{x: x * float64(c.w), y: y * float64(c.h), length: 22 * size, width: 6.5 * size,
			angle: -math.Pi/2 + 1.4*(c.random.Float64()-0.5) + 0.8*(noise(x*10, y*10)-0.5), colour: c.near(tone, 7), load: 0.93})
	}
}
