package drawn

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
)

// point is a place in the a*b* plane.
type point struct{ a, b float64 }

// reach draws how far mixes of some paints go in the a*b* plane, over all
// lightnesses: the farthest mix found in each direction from the middle of the
// masstones. It is a picture, not a verdict.
type reach struct {
	paints  []film.Paint // scaled to the same mean K+S
	surface film.Surface
	light   *colour.Light
	middle  point
	far     [sectors]float64 // 0: nothing found that way
}

const sectors = 180

// reachOutline follows every pair of paints from one to the other, alone and
// with some of each third paint where a mix may hold three.
func reachOutline(paints []film.Paint, surface film.Surface, light *colour.Light, perMix int) []point {
	r := &reach{surface: surface, light: light, paints: make([]film.Paint, len(paints))}
	for i := range paints {
		film.Mix(&r.paints[i], paints[i:i+1], []float64{1 / meanStrength(&paints[i])})
		p := r.colour([]float64{1}, i)
		r.middle.a += p.a / float64(len(paints))
		r.middle.b += p.b / float64(len(paints))
	}
	for i := range r.paints {
		for j := i + 1; j < len(r.paints) && perMix >= 2; j++ {
			r.follow(0, i, j, i)
			for k := range r.paints {
				if perMix >= 3 && k != i && k != j {
					for _, amount := range []float64{0.02, 0.08, 0.3, 1, 4} {
						r.follow(amount, i, j, k)
					}
				}
			}
		}
	}
	return r.outline()
}

// follow walks from paint i to paint j in steps even in the logarithm of their
// ratio, with a fixed amount of paint k beside them.
func (r *reach) follow(amount float64, i, j, k int) {
	const steps, span = 36, 7.0
	var last point
	for n := range steps + 1 {
		x := 1 / (1 + portable.Exp(span-2*span*float64(n)/steps))
		at := r.colour([]float64{1 - x, x, amount}, i, j, k)
		if n > 0 {
			r.line(last, at)
		}
		last = at
	}
}

func (r *reach) colour(amounts []float64, picked ...int) point {
	var chosen [3]film.Paint
	for n, i := range picked {
		chosen[n] = r.paints[i]
	}
	var mix film.Paint
	film.Mix(&mix, chosen[:len(picked)], amounts)
	seen := mix.Masstone(r.surface)
	lab := r.light.Lab(&seen)
	return point{lab.A, lab.B}
}

// line marks every direction that the way from p to q passes.
func (r *reach) line(p, q point) {
	const steps = 6
	for n := range steps + 1 {
		t := float64(n) / steps
		a, b := p.a+float64(t*(q.a-p.a))-r.middle.a, p.b+float64(t*(q.b-p.b))-r.middle.b
		k := int((portable.Atan2(b, a)/(2*math.Pi)+1)*sectors) % sectors
		r.far[k] = max(r.far[k], portable.Hypot(a, b))
	}
}

// outline joins the farthest points; a direction in which nothing was found
// between two in which something was is passed over.
func (r *reach) outline() []point {
	var out []point
	for k, far := range r.far {
		if far > 0 {
			sin, cos := portable.Sincos((float64(k) + 0.5) / sectors * 2 * math.Pi)
			out = append(out, point{r.middle.a + float64(far*cos), r.middle.b + float64(far*sin)})
		}
	}
	return out
}

func meanStrength(p *film.Paint) float64 {
	sum := 0.0
	for b := range p.K {
		sum += p.K[b] + p.S[b]
	}
	return sum / colour.Bands
}
