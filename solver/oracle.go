package solver

import (
	"fewtubes/gamut"
	"fewtubes/gamut/set"
)

// effort says how hard to look for a mix.
type effort int

const (
	quick   effort = iota // while a failing set is grown
	search                // before a palette is said to miss
	verdict               // before a failing set enters a proof
)

// oracle answers for one problem's targets and tubes, both by index. It must be
// monotone as far as it can be (more tubes, no worse mix), deterministic, and
// safe for concurrent use.
type oracle interface {
	// within looks for a mix of the palette, not empty, that lies within the
	// tolerance of target t. When it finds none, the mix is the nearest it saw.
	within(t int, palette set.Set, tolerance float64, e effort) (gamut.Mix, bool)
	// closest is the nearest mix of the palette, not empty, to target t.
	closest(t int, palette set.Set, e effort) gamut.Mix
}
