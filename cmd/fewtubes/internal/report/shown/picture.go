package shown

import (
	"math"
	"strconv"
)

// TenThousandths is a number written to four decimals: a part of a picture, or a place
// in it.
type TenThousandths float64

// MarshalJSON writes four decimals without trailing zeros.
func (v TenThousandths) MarshalJSON() ([]byte, error) {
	return strconv.AppendFloat(nil, math.Round(float64(v)*1e4)/1e4+0, 'f', -1, 64), nil
}

// Percent is a part, never rounded to all or nothing where it is neither.
func (v TenThousandths) Percent() string {
	p := 100 * float64(v)
	switch {
	case v > 0 && p < 0.1:
		return "0.1 %"
	case v < 1 && p > 99.9:
		return "99.9 %"
	}
	return Digits(p, 1) + " %"
}

// Ninth names the part of a picture in which a place lies, given in fractions.
func Ninth(x, y float64) string {
	third := func(v float64) int { return min(int(v*3), 2) }
	words := [3][3]string{
		{"top left", "top", "top right"},
		{"left", "centre", "right"},
		{"bottom left", "bottom", "bottom right"},
	}
	return words[third(y)][third(x)]
}
