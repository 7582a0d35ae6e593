package printable

import (
	"math"

	"fewtubes/cmd/fewtubes/internal/report/shown"
)

// Pair is two fields that touch.
type Pair struct{ TargetHex, MixHex string }

// PairOf is a colour wanted and the mix for it.
func PairOf(target, mix shown.Lab) Pair {
	return Pair{shown.Hex(target.Colour()), shown.Hex(mix.Colour())}
}

// OffScreen says whether a screen cannot show a colour.
func OffScreen(c shown.Lab) bool { return !c.Colour().SRGB().Displayable() }

// Blocks are the parts of one tube in a recipe, drawn one block a part.
type Blocks struct {
	Hex   string
	Each  []struct{}
	Touch bool // a small one
}

// BlocksOf are parts of the colour #rrggbb.
func BlocksOf(hex string, parts float64) Blocks {
	return Blocks{hex, make([]struct{}, int(math.Ceil(parts))), parts < 1}
}
