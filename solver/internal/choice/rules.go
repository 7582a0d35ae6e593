package choice

import (
	"cmp"
	"slices"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

// Limit is one limit on its own, which can be left out and put back.
type Limit struct {
	Kind  Kind
	Tubes set.Set
	Most  int
	Turn  int // limits are left out in this order; those of one turn are the same
}

// Kind is a kind of limit.
type Kind int

const (
	MostTubes Kind = iota // most tubes at most
	Budget                // the prices come to most at most
	Forbid                // none of the tubes
	Only                  // none but the tubes
	Keep                  // every one of the tubes
	Group                 // at most one of the tubes
)

// narrows reports whether a limit narrows which tubes are allowed, rather than how
// many or which together.
func (l *Limit) narrows() bool { return l.Kind == Forbid || l.Kind == Only }

// RulesOf puts limits together.
func RulesOf(tubes int, limits []Limit, prices []int) *cover.Rules {
	r := &cover.Rules{Allowed: set.Full(tubes), Keep: set.New(tubes), Weights: prices}
	for i := range limits {
		switch l := &limits[i]; l.Kind {
		case MostTubes:
			r.Most = l.Most
		case Budget:
			r.Budgeted, r.Budget = true, l.Most
		case Forbid:
			r.Allowed = set.Minus(r.Allowed, l.Tubes)
		case Only:
			r.Allowed = set.Intersection(r.Allowed, l.Tubes)
		case Keep:
			r.Keep = set.Union(r.Keep, l.Tubes)
		case Group:
			r.Groups = append(r.Groups, l.Tubes)
		}
	}
	return r
}

// blamed reports whether a limit that narrows nothing is among those that a cover
// under the rules could not keep.
func (l *Limit) blamed(r *cover.Rules, blame []cover.Limit) bool {
	return slices.ContainsFunc(blame, func(b cover.Limit) bool {
		switch b.Kind {
		case cover.Keep:
			return l.Kind == Keep && l.Tubes.Has(b.At)
		case cover.Group:
			return l.Kind == Group && l.Tubes.Equal(r.Groups[b.At])
		case cover.Most:
			return l.Kind == MostTubes && l.Most == b.At
		case cover.Budget:
			return l.Kind == Budget
		default: // what is new is no limit of a wish
			return false
		}
	})
}

// inOrder are the limits in the order in which they are left out, each once.
func inOrder(limits []Limit) []int {
	at := set.Full(len(limits)).Members()
	slices.SortStableFunc(at, func(i, j int) int { return cmp.Compare(limits[i].Turn, limits[j].Turn) })
	return slices.CompactFunc(at, func(i, j int) bool { return limits[i].Turn == limits[j].Turn })
}
