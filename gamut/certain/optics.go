package certain

import "fewtubes/gamut/film"

// optics takes internal reflectances r and ratios q = K/S to reflectance
// factors R seen through the surface. R is convex and falls in q.
type optics struct{ film.Surface }

// ofQ is R for q.
func (o optics) ofQ(q float64) float64 { return o.Seen(film.Infinite(q)) }

// fall is how fast R falls with q along the chord between two internal
// reflectances; along the tangent where they are equal. Written this way
// nothing cancels on a short chord.
func (o optics) fall(r, t float64) float64 {
	return 2 * (1 - o.K1) * (1 - o.K2) * r * t / ((1 - float64(o.K2*r)) * (1 - float64(o.K2*t)) * (1 - float64(r*t)))
}
