package gamut

import (
	"fewtubes/gamut/set"
	"math"

	"fewtubes/gamut/portable"
)

// volumeSlabs part L* 0..100, volumeSectors the hue circle around each slab's
// middle.
const (
	volumeSlabs   = 50
	volumeSectors = 60
)

// Volume estimates the volume, in cubic CIELAB units, of what the palette can
// mix with up to three paints: every pair of paints is followed from one to the
// other, alone and with some of each third paint, and the nearest and farthest
// mix in each direction bound each slab of lightness. It comes within about a
// tenth of asking the search at random places, and serves to compare palettes,
// not to decide reach.
func (m *Mixer) Volume(palette set.Set) float64 {
	trace := m.trace(palette)
	var count [volumeSlabs]float64
	var a, b [volumeSlabs]float64
	for _, p := range trace {
		k := slab(p[0])
		count[k]++
		a[k] += p[1]
		b[k] += p[2]
	}
	var far, near [volumeSlabs][volumeSectors]float64
	for _, p := range trace {
		k := slab(p[0])
		da, db := p[1]-a[k]/count[k], p[2]-b[k]/count[k]
		sector := int((portable.Atan2(db, da)/(2*math.Pi)+1)*volumeSectors) % volumeSectors
		r := portable.Hypot(da, db)
		if far[k][sector] == 0 || r < near[k][sector] {
			near[k][sector] = r
		}
		far[k][sector] = max(far[k][sector], r)
	}
	total := 0.0
	for k := range far {
		for i, r := range far[k] {
			total += float64(float64((float64(r*r)-float64(near[k][i]*near[k][i]))*(math.Pi/volumeSectors)) * (100.0 / volumeSlabs))
		}
	}
	return total
}

func slab(l float64) int {
	return min(max(int(l/100*volumeSlabs), 0), volumeSlabs-1)
}

// trace lists L, a, b along the ways between every two paints of the palette,
// with points between neighbours on a way so that no slab is skipped.
func (m *Mixer) trace(palette set.Set) [][3]float64 {
	members := palette.Members()
	var out [][3]float64
	for _, i := range members {
		lab := m.Evaluate([]int{i}, []float64{1})
		out = append(out, [3]float64{lab.L, lab.A, lab.B})
	}
	for x, i := range members {
		for _, j := range members[x+1:] {
			out = m.way(out, i, j, i, 0)
			for _, k := range members {
				if m.PaintsPerMix() < 3 || k == i || k == j {
					continue
				}
				for _, amount := range []float64{0.01, 0.03, 0.1, 0.3, 1, 3, 10} {
					out = m.way(out, i, j, k, amount)
				}
			}
		}
	}
	return out
}

// way goes from paint i to paint j in steps even in the logarithm of their
// ratio, paints scaled to the same mean K+S, beside a fixed amount of paint k.
func (m *Mixer) way(out [][3]float64, i, j, k int, amount float64) [][3]float64 {
	const steps, between, span = 28, 4, 7.0
	paints, amounts := []int{i, j, k}, make([]float64, 3)
	if amount == 0 {
		paints, amounts = paints[:2], amounts[:2]
	}
	var last [3]float64
	for n := range steps + 1 {
		x := 1 / (1 + portable.Exp(span-2*span*float64(n)/steps))
		for at, part := range []float64{1 - x, x, amount}[:len(paints)] {
			amounts[at] = part / m.search.Scale(paints[at])
		}
		lab := m.Evaluate(paints, amounts)
		here := [3]float64{lab.L, lab.A, lab.B}
		for s := 1; s <= between && n > 0; s++ {
			t := float64(s) / between
			out = append(out, [3]float64{
				last[0] + float64(t*(here[0]-last[0])), last[1] + float64(t*(here[1]-last[1])), last[2] + float64(t*(here[2]-last[2])),
			})
		}
		last = here
	}
	return out
}
