package choice

import (
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/reach"
)

// Stakes are what every choice is about: tubes and targets, by index.
type Stakes struct {
	Oracle    reach.Oracle
	Tubes     int
	Tolerance []float64 // per target
	Area      []float64 // per target
	Prices    []int     // per tube, to a painter who owns none but those that the catalogue marks so
	Flaws     []int     // per tube: what speaks against it where palettes are as good
	Uses      cover.Uses
	ByHand    bool // nothing counts but whether a target is reached
}

// Core is what is known of every target in the course of a choice.
type Core struct {
	*Stakes
	Known     []*reach.Known // per target
	Tolerance []float64      // asked for; those of the stakes, or others
}

// Blank is a core that knows nothing yet.
func (s *Stakes) Blank() *Core {
	c := &Core{Stakes: s, Tolerance: s.Tolerance}
	for t := range s.Tolerance {
		c.Known = append(c.Known, reach.NewKnown(s.Oracle, t, s.Tubes))
	}
	return c
}

// Copy is a core that knows the same and learns by itself.
func (c *Core) Copy() *Core {
	out := c.Blank()
	out.Tolerance = c.Tolerance
	for t, k := range c.Known {
		*out.Known[t] = k.Copy()
	}
	return out
}

// Wish is what to choose by.
type Wish struct {
	Limits []Limit
	Prices []int // per tube, as the painter pays them
	Order  Order
	New    set.Set // of these as few as can be come before as few tubes as can be; nil: they count as others
	Most   int     // palettes listed
	Watch  func(Progress)

	opening bool // where the targets cannot all be reached, leave it at that
}

// Order is what palettes of a size are ordered by: a sum of weights, or, where
// there is none, how near they come (see favourite).
type Order struct {
	Name  string // orders of one name are one
	Weigh func(r *cover.Rules, size int) []int
}

// Rules are those of a wish.
func (s *Stakes) Rules(w *Wish) *cover.Rules { return RulesOf(s.Tubes, w.Limits, w.Prices) }

// Decision is a choice over indices.
type Decision struct {
	Rules       *cover.Rules
	Reachable   []int // targets within reach of every allowed tube together
	Unreachable []int
	reached     bool // the palettes reach every reachable target
	Size        int
	Palettes    []set.Set // best first
	Smaller     set.Set   // where targets are missed: misses as little with fewer tubes; nil: none does
	Capped      bool
	Needs       []Need
	NewNeeds    []Need // no palette of fewer new tubes, of any size, meets them all
	Conflict    []int  // limits of the wish that cannot be kept together, none to spare
	Rounds      int
	Cuts        int
	Lower       int // when cut short: no palette has fewer tubes
}

// Reaches reports whether the palettes reach every reachable target.
func (d *Decision) Reaches() bool { return d.reached }
