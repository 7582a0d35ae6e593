package report

import "math"

// swatchPair is two fields that touch.
type swatchPair struct{ TargetHex, MixHex string }

func pairOf(target, mix Lab) swatchPair { return swatchPair{Hex(target.Colour()), Hex(mix.Colour())} }

func offScreen(c Lab) bool { return !c.Colour().SRGB().Displayable() }

// partBlocks are the parts of one tube in a recipe, drawn one block a part.
type partBlocks struct {
	Hex   string
	Each  []struct{}
	Touch bool // a small one
}

func blocksOf(hex string, parts float64) partBlocks {
	return partBlocks{hex, make([]struct{}, int(math.Ceil(parts))), parts < 1}
}
