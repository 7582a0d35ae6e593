package portable

import (
	"cmp"
	"math"
)

// How finely figures are told apart where an order is decided.
const (
	Fine  = 1e-6 // what lies below is how a sum was rounded or when a descent ended
	Shown = 0.01 // differences as they are printed
)

// Compare orders two figures as cmp.Compare does once both are rounded to a
// multiple of step, so that the last bits of a sum decide no order: what is equal
// but for them is a tie, and left to what the caller compares next.
func Compare(a, b, step float64) int {
	return cmp.Compare(math.Round(a/step), math.Round(b/step))
}
