package cover

import (
	"slices"

	"fewtubes/gamut/set"
)

// Rules are the limits on every palette.
type Rules struct {
	Allowed  set.Set   // a palette holds nothing else
	Keep     set.Set   // it holds all of these
	Groups   []set.Set // it holds at most one of each
	Most     int       // it holds so many at most; 0: any number
	Weights  []int     // of each member, >= 0
	Budgeted bool      // Budget holds
	Budget   int       // the weights of a palette come to so much at most
	New      set.Set   // NewMost counts these; nil: it does not hold
	NewMost  int       // so many of New at most are in a palette
}

// WithNew are the rules with so many of some members at most.
func (r *Rules) WithNew(members set.Set, most int) *Rules {
	out := *r
	out.New, out.NewMost = members, most
	return &out
}

// Kind is a kind of limit.
type Kind int

const (
	Keep    Kind = iota // the member At is in the palette
	Group               // at most one of Rules.Groups[At] is
	Most                // At members at most are
	Budget              // their weights come to At at most
	MostNew             // At of Rules.New at most are
)

// Limit is one limit on its own.
type Limit struct {
	Kind Kind
	At   int
}

// Keeps reports whether a palette keeps every limit.
func (r *Rules) Keeps(palette set.Set) bool {
	if !palette.SubsetOf(r.Allowed) || !r.Keep.SubsetOf(palette) {
		return false
	}
	if r.Most > 0 && palette.Len() > r.Most {
		return false
	}
	for _, g := range r.Groups {
		if set.Intersection(g, palette).Len() > 1 {
			return false
		}
	}
	if r.New != nil && set.Intersection(r.New, palette).Len() > r.NewMost {
		return false
	}
	return r.Affords(r.Weight(palette))
}

// Affords reports whether the budget allows so much weight.
func (r *Rules) Affords(weight int) bool { return !r.Budgeted || weight <= r.Budget }

// affordable is how many members the budget buys at most.
func (r *Rules) affordable() (n int) {
	var weights []int
	for _, i := range r.Allowed.Members() {
		weights = append(weights, r.Weights[i])
	}
	slices.Sort(weights)
	left := r.Budget
	for _, w := range weights {
		if left -= w; left < 0 {
			break
		}
		n++
	}
	return n
}

// Weight is what a palette weighs.
func (r *Rules) Weight(palette set.Set) int {
	total := 0
	for _, i := range palette.Members() {
		total += r.Weights[i]
	}
	return total
}
