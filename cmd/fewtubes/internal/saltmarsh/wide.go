package main

import (
	"image"
	"math"

	"fewtubes/gamut/colour"
)

const horizon = 0.37 // of the height

// paintWide is the view over the marsh to the far shore.
func paintWide() image.Image {
	c := newCanvas(1200, 800, 11)
	c.ground(seeWide)
	c.cover(seeWide, 110, 34, 0.95, 5)
	c.cover(seeWide, 52, 15, 0.85, 5)
	c.cover(seeWide, 24, 6, 0.8, 4)
	c.grass(0.47)
	c.wrackLine()
	c.samphireOf(0.60, 6500)
	return c.image()
}

func seeWide(x, y float64) (tone colour.Lab, angle, size float64) {
	shore := horizon - 0.012 - 0.022*clouds(x*3.1, 4)
	switch {
	case y < shore:
		return sky(x, y)
	case y < horizon:
		t := step(shore, horizon, y)
		wood := step(0.45, 0.6, clouds(x*14, 9)) * t
		return blend(farHills, farWood, wood), 0, 0.32
	}
	return flats(x, y)
}

// sky has long clouds that are lit from the horizon.
func sky(x, y float64) (tone colour.Lab, angle, size float64) {
	t := y / horizon
	tone = blend(blend(skyZenith, skyMiddle, step(0, 0.6, t)), skyHorizon, step(0.5, 1, t))
	across, down := x*3.2, math.Pow(t, 1.8)*6+0.7*x
	body := clouds(across, down)
	if cloud := step(0.5, 0.66, body); cloud > 0 {
		above := clouds(across, down-0.22)
		lit := step(-0.06, 0.10, body-above)
		tone = blend(tone, blend(cloudShadow, cloudLight, lit), cloud*(1-0.5*step(0.75, 1, t)))
	}
	return tone, 0.10 * (x - 0.4), mix(1, 0.45, t)
}

// flats is everything below the horizon: sand and water far off, then
// cord-grass parted by a creek between banks of mud.
func flats(x, y float64) (tone colour.Lab, angle, size float64) {
	v := (y - horizon) / (1 - horizon) // 0 at the horizon, 1 at the foot
	size = mix(0.22, 1, math.Sqrt(v))
	if v < 0.035 {
		bar := step(0.42, 0.58, clouds(x*5, 30+v*60))
		return blend(farWater, farSand, bar), 0, size
	}
	depth := 1 / (v + 0.06)
	away, edge := creek(x, v, depth)
	switch {
	case away < -edge: // water
		return creekWater(x, v, away/edge), 0, size
	case away < 0.6*edge+0.012: // the bank that the ebb laid bare
		wet := step(-edge, 0.6*edge, away)
		bank := blend(mudWet, mudBank, wet)
		if clouds(x*30, depth*6) > 0.56 {
			bank = blend(bank, mudShine, 0.75*(1-wet))
		}
		return bank, 0.35 * math.Copysign(1, x-0.5), size
	}
	return meadow(x, v, depth), -0.15 + 0.4*(noise(x*8, depth*3)-0.5), size
}

// creek is the distance to the edge of the water and the width of the bank, in
// parts of the picture's width.
func creek(x, v, depth float64) (away, bank float64) {
	middle := 0.52 + 0.20*math.Sin(1.05*depth-0.7)*(0.25+v) + 0.12*v
	half := 0.008 + 0.15*v*v + 0.035*v
	half *= 0.85 + 0.3*noise(depth*1.3, 3)
	bank = 0.010 + 0.065*v
	return math.Abs(x-middle) - half, bank
}

func creekWater(x, v, inside float64) colour.Lab {
	ripple := clouds(x*9, v*55)
	tone := blend(farWater, waterLight, step(0, 0.4, v))
	tone = blend(tone, skyZenith, 0.9*step(0.25, 1, v))
	tone = blend(tone, waterDeep, step(0.48, 0.66, ripple)*step(0.1, 0.6, v))
	return blend(blend(tone, mudBank, 0.5), tone, step(-1, -1.9, inside))
}

func meadow(x, v, depth float64) colour.Lab {
	patch := clouds(x*depth*0.55+3, depth*2.1)
	tone := blend(marshGreen, marshGold, step(0.42, 0.6, patch))
	tone = blend(tone, marshShade, 0.9*step(0.57, 0.68, clouds(x*depth*0.9+11, depth*3.7)))
	near := step(0.25, 0.9, v)
	tone = blend(tone, blend(grassMid, grassDark, step(0.4, 0.62, clouds(x*7, v*9))), 0.75*near)
	// Air lightens and cools what is far.
	return blend(tone, colour.Lab{L: 72, A: -2, B: 4}, 0.45*(1-step(0, 0.3, v)))
}

// grass sets blades of cord-grass in leaning clumps over the meadow, larger
// towards the foot.
func (c *canvas) grass(from float64) {
	for y := from; y < 1.04; y += 0.006 {
		v := (y - horizon) / (1 - horizon)
		for range int(210 * (0.6 + 0.7*v)) {
			x := c.random.Float64()
			away, edge := creek(x, min(v, 1), 1/(v+0.06))
			if away < 0.75*edge+0.015 || clouds(x*11, v*17) < 0.49 {
				continue
			}
			tone := blend(grassMid, grassSun, step(0.35, 0.75, c.random.Float64()+0.3*(noise(x*5, v*7)-0.5)))
			if c.random.Float64() < 0.3 {
				tone = blend(grassDark, marshShade, c.random.Float64())
			}
			if c.random.Float64() < 0.12 {
				tone = marshGold
			}
			long := (6 + 52*v*v) * (0.35 + 1.1*c.random.Float64()*c.random.Float64() + 0.4*noise(x*14, v*20))
			lean := 0.9 * (noise(x*12+60, v*15) - 0.45)
			c.lay(stroke{
				x: x * float64(c.w), y: y*float64(c.h) - long/2, length: long, width: 1.4 + 2.0*v,
				angle: -math.Pi/2 + lean + 0.5*(c.random.Float64()-0.5), colour: c.near(tone, 5), load: 0.9,
			})
		}
	}
}

// wrackLine is what the last flood left: weed, straw and a few shells in a
// wavering line over the near left.
func (c *canvas) wrackLine() {
	for range 2600 {
		t := 0.56 * math.Sqrt(c.random.Float64()) * math.Sqrt(c.random.Float64())
		thick := 0.006 + 0.030*noise(t*9, 8)*(1-t)
		y := 0.80 + 0.16*t + 0.025*math.Sin(9*t) + 0.012*(noise(t*30, 2)-0.5) + thick*(c.random.Float64()+c.random.Float64()-1)
		tone, long := wrackDark, 14.0
		switch r := c.random.Float64(); {
		case r < 0.22:
			tone, long = wrackStraw, 20
		case r < 0.25:
			tone, long = shell, 5
		case r < 0.45:
			tone = mudBank
		}
		c.lay(stroke{x: t * float64(c.w), y: y * float64(c.h), length: long * (0.5 + c.random.Float64()), width: 3.2,
			angle: 0.3 + 0.9*(c.random.Float64()-0.5), colour: c.near(tone, 5), load: 0.9})
	}
}

// samphireOf dots the near banks with glasswort, red at the tips.
func (c *canvas) samphireOf(from float64, n int) {
	for range n {
		x, y := c.random.Float64(), from+(1-from)*math.Sqrt(c.random.Float64())
		v := (y - horizon) / (1 - horizon)
		away, edge := creek(x, v, 1/(v+0.06))
		if away < 0.15*edge || away > 1.7*edge+0.01 || clouds(x*13+40, v*18) < 0.49 {
			continue
		}
		tone := blend(samphireRed, samphireRose, c.random.Float64())
		switch r := c.random.Float64(); {
		case r < 0.32:
			tone = samphireGreen
		case r < 0.50:
			tone = blend(samphireRed, mudDark, 0.6)
		}
		size := (4 + 9*v) * (0.5 + 0.8*c.random.Float64())
		c.lay(stroke{x: x * float64(c.w), y: y * float64(c.h), length: size * 1.3, width: size * 0.45,
			angle: -math.Pi/2 + 0.9*(c.random.Float64()-0.5), colour: c.near(tone, 5), load: 0.92})
	}
}
