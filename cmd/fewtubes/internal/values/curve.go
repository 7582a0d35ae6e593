package values

import (
	"fmt"
	"math"
	"slices"
)

// Curve moves values by three points, darkest, middle and lightest: L* From[i]
// becomes To[i]. Both are ascending; what lies outside From ends at the ends of To.
type Curve struct {
	From [3]float64 `toml:"from"`
	To   [3]float64 `toml:"to"`
}

// Check reports values outside 0..100 or out of order.
func (c Curve) Check() error {
	for _, side := range [][3]float64{c.From, c.To} {
		for i, v := range side {
			if !(v >= 0 && v <= 100) {
				return fmt.Errorf("value %v is not between 0 and 100", v)
			}
			if i > 0 && v <= side[i-1] {
				return fmt.Errorf("values %v, %v, %v do not rise from darkest to lightest", side[0], side[1], side[2])
			}
		}
	}
	return nil
}

// At is the moved value of L*. Between the points runs the monotone cubic of
// Fritsch and Carlson (SIAM J. Numer. Anal. 17:238-246, 1980), so that no two
// values change order and the middle has no kink.
func (c Curve) At(l float64) float64 {
	if l <= c.From[0] {
		return c.To[0]
	}
	if l >= c.From[2] {
		return c.To[2]
	}
	m := c.slopes()
	i := 0
	if l > c.From[1] {
		i = 1
	}
	h := c.From[i+1] - c.From[i]
	t := (l - c.From[i]) / h
	t2, t3 := float64(t*t), float64(t*t*t)
	v := float64((float64(2*t3)-float64(3*t2)+1)*c.To[i]) + float64((t3-float64(2*t2)+t)*h*m[i]) +
		float64((float64(3*t2)-float64(2*t3))*c.To[i+1]) + float64((t3-t2)*h*m[i+1])
	return math.Min(math.Max(v, c.To[0]), c.To[2])
}

// slopes are the tangents at the points, held within three times the steepness
// of either neighbouring chord.
func (c Curve) slopes() (m [3]float64) {
	d0 := (c.To[1] - c.To[0]) / (c.From[1] - c.From[0])
	d1 := (c.To[2] - c.To[1]) / (c.From[2] - c.From[1])
	mid := min((d0+d1)/2, 3*d0, 3*d1)
	return [3]float64{min((float64(3*d0)-mid)/2, 3*d0), mid, min((float64(3*d1)-mid)/2, 3*d1)}
}

// What oil paint shows, L*: the darkest dry film with its surface glare, and
// titanium white (computed from the film model with published paints).
const (
	PaintDarkest  = 23.0
	PaintLightest = 97.0
	middleValue   = 50.0 // stays where it is
)

// ToPaint is the curve from a range of values into that of paint. What lies
// within stays: only an end that paint cannot show is moved, and the middle
// value 50 keeps its place. It is nil when nothing needs to move.
func ToPaint(darkest, lightest float64) *Curve {
	return ToRange(darkest, lightest, PaintDarkest, PaintLightest)
}

// ToRange is ToPaint for paint that shows only lo..hi, L*. Where the middle
// value is not well within, the middle of that range takes its part.
func ToRange(darkest, lightest, lo, hi float64) *Curve {
	if darkest >= lo && lightest <= hi {
		return nil
	}
	from := [3]float64{max(0, min(darkest, lo)), middleValue, min(100, max(lightest, hi))}
	to := [3]float64{lo, middleValue, hi}
	if margin := (hi - lo) / 5; middleValue < lo+margin || middleValue > hi-margin {
		to[1] = (lo + hi) / 2
		from[1] = min(max(to[1], from[0]+margin), from[2]-margin)
	}
	return &Curve{From: from, To: to}
}

// Extremes are the darkest and lightest of some values but for one in 500 at
// either end, which in a photograph are specks and glints.
func Extremes(all []float64) (darkest, lightest float64) {
	if len(all) == 0 {
		return 0, 100
	}
	sorted := slices.Clone(all)
	slices.Sort(sorted)
	skip := len(sorted) / 500
	return sorted[skip], sorted[len(sorted)-1-skip]
}
