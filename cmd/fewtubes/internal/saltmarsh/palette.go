package main

import "fewtubes/gamut/colour"

// The colours of the marsh, CIELAB; invented, with a landscape's usual ranges in
// mind: muted on the whole, clean only in small places.
var (
	skyZenith   = colour.Lab{L: 66, A: -5, B: -24}
	skyMiddle   = colour.Lab{L: 80, A: -4, B: -10}
	skyHorizon  = colour.Lab{L: 90, A: 4, B: 20}
	cloudLight  = colour.Lab{L: 94, A: 1, B: 6}
	cloudShadow = colour.Lab{L: 70, A: 4, B: -7}

	farHills   = colour.Lab{L: 60, A: 0, B: -10}
	farWood    = colour.Lab{L: 52, A: -4, B: -5}
	farSand    = colour.Lab{L: 76, A: 3, B: 14}
	farWater   = colour.Lab{L: 88, A: 0, B: 3}
	waterLight = colour.Lab{L: 84, A: -1, B: 0}
	waterDeep  = colour.Lab{L: 47, A: -5, B: -24}

	marshGold  = colour.Lab{L: 66, A: 7, B: 44}
	marshGreen = colour.Lab{L: 54, A: -12, B: 26}
	marshShade = colour.Lab{L: 40, A: -9, B: 16}

	mudWet    = colour.Lab{L: 47, A: 3, B: 6}
	mudShine  = colour.Lab{L: 68, A: 0, B: -4}
	mudBank   = colour.Lab{L: 33, A: 5, B: 9}
	mudDark   = colour.Lab{L: 26, A: 3, B: 4}
	grassSun  = colour.Lab{L: 66, A: -19, B: 55}
	grassMid  = colour.Lab{L: 47, A: -17, B: 30}
	grassDark = colour.Lab{L: 30, A: -9, B: 13}

	samphireRed   = colour.Lab{L: 40, A: 47, B: 25}
	samphireRose  = colour.Lab{L: 52, A: 38, B: 16}
	samphireGreen = colour.Lab{L: 56, A: -31, B: 42}
	wrackDark     = colour.Lab{L: 25, A: 4, B: 7}
	wrackStraw    = colour.Lab{L: 74, A: 5, B: 30}
	seaLavender   = colour.Lab{L: 52, A: 22, B: -30}
	shell         = colour.Lab{L: 92, A: 1, B: 5}
)

func blend(a, b colour.Lab, t float64) colour.Lab {
	return colour.Lab{L: mix(a.L, b.L, t), A: mix(a.A, b.A, t), B: mix(a.B, b.B, t)}
}
