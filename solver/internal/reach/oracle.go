package reach

import (
	"context"
	"math"

	"fewtubes/gamut"
	"fewtubes/gamut/set"
)

// Oracle answers for one problem's targets and tubes, both by index. It must be
// monotone as far as it can be (more tubes, no worse mix), deterministic, and
// safe for concurrent use.
type Oracle interface {
	// Within looks for a mix of the palette, not empty, that lies within the
	// tolerance of target t. When it finds none, the mix is the nearest it saw.
	Within(t int, palette set.Set, tolerance float64, e gamut.Effort) (gamut.Mix, bool)
	// Closest is the nearest mix of the palette, not empty, to target t.
	Closest(t int, palette set.Set, e gamut.Effort) gamut.Mix
	// WithinBy is a quick look at a palette that misses target t without some tubes.
	WithinBy(t int, palette set.Set, tubes []int, tolerance float64) (gamut.Mix, bool)

	// Swap settles mix towards target t with the tube out exchanged for in.
	Swap(t int, mix *gamut.Mix, out, in int) gamut.Mix
	// Alike lists the other tubes, those most like the given one first.
	Alike(tube int) []int
	// Pulls tells per tube how much nearer, squared, a little of it promises to
	// bring a mix to target t; negative: it leads away.
	Pulls(t int, mix *gamut.Mix) []float64
	// PullsWithout is the same for a mix that does without one of its tubes.
	PullsWithout(t int, mix *gamut.Mix, tube int) []float64

	// Lists reports whether the sets of tubes that reach a target can be told one by
	// one, for this problem.
	Lists() bool
	// Brings reports whether a tube more brings a palette, no such set of which comes
	// within a tolerance of target t, so near.
	Brings(t int, palette set.Set, tube int, tolerance float64) bool
	// Promise tells per tube in how many sets of a domain it stands that may come
	// within a tolerance of target t, roughly. The error is the context's.
	Promise(ctx context.Context, t int, domain set.Set, tolerance float64) ([]int, error)
	// Listed is the nearest mix of some such set of the palette that comes within a
	// tolerance.
	Listed(t int, palette set.Set, tolerance float64) (gamut.Mix, bool)
}

// Alone is the nearest mix of a palette that a search finds, or the first within
// exact. It depends on the palette and the target alone, so that a palette's mixes
// are the same wherever they are shown.
func Alone(o Oracle, t int, palette set.Set) gamut.Mix {
	if palette.Len() == 0 {
		return gamut.Mix{DE: math.Inf(1)}
	}
	mix, _ := o.Within(t, palette, Exact, gamut.Search)
	return mix
}
