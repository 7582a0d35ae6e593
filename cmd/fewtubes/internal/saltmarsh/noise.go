package main

import "math"

// noise is smooth value noise of unit scale, 0..1, always the same.
func noise(x, y float64) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	ix, iy := int64(fx), int64(fy)
	sx, sy := smooth(x-fx), smooth(y-fy)
	top := mix(lattice(ix, iy), lattice(ix+1, iy), sx)
	bottom := mix(lattice(ix, iy+1), lattice(ix+1, iy+1), sx)
	return mix(top, bottom, sy)
}

// clouds is noise on several scales, 0..1 and mostly about the middle.
func clouds(x, y float64) float64 {
	var sum, size float64
	for k, a := 0, 0.5; k < 5; k, a = k+1, a/2 {
		sum += a * noise(x, y)
		size += a
		x, y = 2*x+17.3, 2*y+5.1
	}
	return sum / size
}

// lattice hashes a grid point to 0..1 (the finaliser of splitmix64).
func lattice(x, y int64) float64 {
	h := uint64(x)*0x9e3779b97f4a7c15 ^ uint64(y)*0xc2b2ae3d27d4eb4f
	h = (h ^ h>>30) * 0xbf58476d1ce4e5b9
	h = (h ^ h>>27) * 0x94d049bb133111eb
	return float64((h^h>>31)>>11) / (1 << 53)
}

func smooth(t float64) float64 { return t * t * (3 - 2*t) }

func mix(a, b, t float64) float64 { return a + (b-a)*t }

// step goes smoothly from 0 at a to 1 at b.
func step(a, b, x float64) float64 { return smooth(min(max((x-a)/(b-a), 0), 1)) }
