package colour

import (
	"math"
	"strconv"
)

// Hundredths is a CIEDE2000 difference or a CIELAB coordinate, written everywhere
// with the same two decimals.
type Hundredths float64

// Rounded is the number as it is written.
func (h Hundredths) Rounded() Hundredths { return Hundredths(math.Round(float64(h)*100) / 100) }

func (h Hundredths) String() string {
	return strconv.FormatFloat(float64(h.Rounded())+0, 'f', 2, 64) // + 0: never -0.00
}

// MarshalJSON writes the same digits.
func (h Hundredths) MarshalJSON() ([]byte, error) { return []byte(h.String()), nil }
