package film

import "fewtubes/gamut/film/doubt"

// Deviate writes into dst the paint as it would be if it lay off by d, within the
// floors and ceilings of K and S. dst may be p.
func (p *Paint) Deviate(dst *Paint, d *doubt.Deviation) {
	k, s := d.Factors()
	for b := range k {
		dst.K[b] = min(max(p.K[b]*k[b], FloorK), CeilK)
		dst.S[b] = min(max(p.S[b]*s[b], FloorS), CeilS)
	}
}
