package solver

import (
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/reach"
)

// stakes are what every choice is about: tubes and targets, by index.
type stakes struct {
	oracle    reach.Oracle
	tubes     int
	tolerance []float64 // per target
	area      []float64 // per target
	prices    []int     // per tube, where none is owned but what is at hand
	flaws     []int     // per tube: what speaks against it where palettes are as good
}

// core is what is known of every target in the course of a choice.
type core struct {
	*stakes
	known     []*reach.Known // per target
	tolerance []float64      // asked for; those of the stakes, or others
}

// blank is a core that knows nothing yet.
func (s *stakes) blank() *core {
	c := &core{stakes: s, tolerance: s.tolerance}
	for t := range s.tolerance {
		c.known = append(c.known, reach.NewKnown(s.oracle, t, s.tubes))
	}
	return c
}

// copied is a core that knows the same and learns by itself.
func (c *core) copied() *core {
	out := c.blank()
	for t, k := range c.known {
		*out.known[t] = k.Copy()
	}
	return out
}

// wish is what to choose by.
type wish struct {
	limits []limit
	prices []int // per tube, as the painter pays them
	order  order
	most   int // palettes listed
	watch  func(Progress)

	opening bool // where the targets cannot all be reached, leave it at that
}

// order is what palettes of a size are ordered by: a sum of weights, or, where
// there is none, how near they come (see favourite).
type order struct {
	name  string // orders of one name are one
	weigh func(r *cover.Rules, size int) []int
}

// rules are those of a wish.
func (s *stakes) rules(w *wish) *cover.Rules { return rulesOf(s.tubes, w.limits, w.prices) }

// decision is a choice over indices.
type decision struct {
	rules       *cover.Rules
	reachable   []int // targets within reach of every allowed tube together
	unreachable []int
	reached     bool // the palettes reach every reachable target
	size        int
	palettes    []set.Set // best first
	smaller     set.Set   // where targets are missed: misses as little with fewer tubes; nil: none does
	capped      bool
	needs       []need
	conflict    []int // limits of the wish that cannot be kept together, none to spare
	rounds      int
	cuts        int
	lower       int // when cut short: no palette has fewer tubes
}
