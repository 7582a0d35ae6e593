package colour

import (
	"math"

	"fewtubes/gamut/portable"
)

// find inverts at for one value: the hue and chroma whose a*, b* are p.
//
// It turns and stretches in alternation, as the visual method of ASTM D1535
// does: the hue by the angle still missing, the chroma by the ratio of the
// distances from neutral; then Newton steps finish. The best state met is kept.
func (r *renotation) find(value float64, p point) (hue, chroma float64) {
	want := portable.Hypot(p.a, p.b)
	if want < 1e-9 || value <= 0 {
		return 0, 0
	}
	m := Munsell{Hue: r.nearestHue(value, p), Value: value, Chroma: want / 5}
	best, least := m, math.Inf(1)
	for range 100 {
		q, _ := r.at(m)
		miss := portable.Hypot(q.a-p.a, q.b-p.b)
		if miss < least {
			best, least = m, miss
		}
		if miss < 1e-10 {
			break
		}
		m = r.step(m, q, p)
	}
	return best.Hue, best.Chroma
}

// nearestHue picks the hue line whose angle at a middle chroma is nearest.
func (r *renotation) nearestHue(value float64, p point) (hue float64) {
	least := math.Inf(1)
	for i := range hueCount {
		h := hueStep * float64(i)
		q, _ := r.at(Munsell{h, value, portable.Hypot(p.a, p.b) / 5})
		if d := math.Abs(angle(q, p)); d < least {
			hue, least = h, d
		}
	}
	return hue
}

// step is one Newton step in hue and chroma from m, which looks like q, towards
// p. Where the slopes degenerate it turns and stretches instead.
func (r *renotation) step(m Munsell, q, p point) Munsell {
	const eps = 1e-6
	dh, _ := r.at(Munsell{wrapHue(m.Hue + eps), m.Value, m.Chroma})
	dc, _ := r.at(Munsell{m.Hue, m.Value, m.Chroma + eps})
	ha, hb := (dh.a-q.a)/eps, (dh.b-q.b)/eps
	ca, cb := (dc.a-q.a)/eps, (dc.b-q.b)/eps
	det := float64(ha*cb) - float64(hb*ca)
	ra, rb := p.a-q.a, p.b-q.b
	turn, stretch := (float64(ra*cb)-float64(rb*ca))/det, (float64(ha*rb)-float64(hb*ra))/det
	if !(math.Abs(turn) < hueStep) || !(math.Abs(stretch) < m.Chroma/2) {
		turn = angle(q, p) / (2 * math.Pi) * 100 / 2
		stretch = m.Chroma * (min(max(portable.Hypot(p.a, p.b)/portable.Hypot(q.a, q.b), 0.5), 2) - 1)
	}
	return Munsell{wrapHue(m.Hue + turn), m.Value, m.Chroma + stretch}
}

// angle is the turn from q to p round the neutral, -pi..pi.
func angle(q, p point) float64 {
	return math.Remainder(portable.Atan2(p.b, p.a)-portable.Atan2(q.b, q.a), 2*math.Pi)
}

func wrapHue(h float64) float64 {
	h = math.Mod(h, 100)
	if h < 0 {
		h += 100
	}
	if h >= 100 {
		h = 0
	}
	return h
}
