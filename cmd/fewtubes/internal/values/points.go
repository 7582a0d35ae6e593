package values

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fewtubes/cmd/fewtubes/internal/plain"
)

// ParsePoints reads a curve as a painter sets it, by three values and what they
// become, darkest, middle, lightest, each 0 black to 10 white:
// "0.4:2.3,5:5,9.8:9.7".
func ParsePoints(text string) (c Curve, err error) {
	pairs := strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ' ' || r == ';' })
	if len(pairs) != 3 {
		return c, fmt.Errorf("three points are wanted, %d found", len(pairs))
	}
	for i, pair := range pairs {
		from, to, ok := strings.Cut(pair, ":")
		a, err1 := strconv.ParseFloat(from, 64)
		b, err2 := strconv.ParseFloat(to, 64)
		if !ok || err1 != nil || err2 != nil {
			return c, fmt.Errorf("%q is not a value and what it becomes", plain.Short(pair))
		}
		for _, v := range []float64{a, b} {
			if !(v >= 0 && v <= 10) {
				return c, fmt.Errorf("%v is no value: they run from 0, black, to 10, white", v)
			}
		}
		// Back to the decimal that was written: 2.3 * 10 is not quite 23.
		c.From[i], c.To[i] = math.Round(a*1e6)/1e5, math.Round(b*1e6)/1e5
	}
	return c, c.Check()
}

// Points is the curve as ParsePoints reads it, to two decimals.
func (c Curve) Points() string {
	var parts []string
	for i := range c.From {
		parts = append(parts, short(c.From[i])+":"+short(c.To[i]))
	}
	return strings.Join(parts, ",")
}

func short(l float64) string { return strconv.FormatFloat(math.Round(l*10)/100, 'f', -1, 64) }
