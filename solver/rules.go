package solver

import (
	"cmp"
	"slices"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

// limit is one limit on its own, which can be left out and put back.
type limit struct {
	kind  limitKind
	tubes set.Set
	most  int
	order int // limits are left out in this order; those of one order are the same
}

// limitKind is a kind of limit.
type limitKind int

const (
	limitSize   limitKind = iota // most tubes at most
	limitBudget                  // the prices come to most at most
	limitForbid                  // none of the tubes
	limitOnly                    // none but the tubes
	limitKeep                    // every one of the tubes
	limitGroup                   // at most one of the tubes
)

// narrows reports whether a limit narrows which tubes are allowed, rather than how
// many or which together.
func (l *limit) narrows() bool { return l.kind == limitForbid || l.kind == limitOnly }

// rulesOf puts limits together.
func rulesOf(tubes int, limits []limit, prices []int) *cover.Rules {
	r := &cover.Rules{Allowed: set.Full(tubes), Keep: set.New(tubes), Weights: prices}
	for i := range limits {
		switch l := &limits[i]; l.kind {
		case limitSize:
			r.Most = l.most
		case limitBudget:
			r.Budgeted, r.Budget = true, l.most
		case limitForbid:
			r.Allowed = set.Minus(r.Allowed, l.tubes)
		case limitOnly:
			r.Allowed = set.Intersection(r.Allowed, l.tubes)
		case limitKeep:
			r.Keep = set.Union(r.Keep, l.tubes)
		case limitGroup:
			r.Groups = append(r.Groups, l.tubes)
		}
	}
	return r
}

// blamed reports whether a limit that narrows nothing is among those that a cover
// under the rules could not keep.
func (l *limit) blamed(r *cover.Rules, blame []cover.Limit) bool {
	return slices.ContainsFunc(blame, func(b cover.Limit) bool {
		switch b.Kind {
		case cover.Keep:
			return l.kind == limitKeep && l.tubes.Has(b.At)
		case cover.Group:
			return l.kind == limitGroup && l.tubes.Equal(r.Groups[b.At])
		case cover.Most:
			return l.kind == limitSize && l.most == b.At
		default:
			return l.kind == limitBudget
		}
	})
}

// inOrder are the limits in the order in which they are left out, each once.
func inOrder(limits []limit) []int {
	at := set.Full(len(limits)).Members()
	slices.SortStableFunc(at, func(i, j int) int { return cmp.Compare(limits[i].order, limits[j].order) })
	return slices.CompactFunc(at, func(i, j int) bool { return limits[i].order == limits[j].order })
}
