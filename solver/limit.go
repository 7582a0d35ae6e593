package solver

import (
	"fmt"
	"strings"
)

// LimitKind is what a limit does.
type LimitKind int

const (
	MostTubes   LimitKind = iota + 1 // so many tubes at most
	MostSpent                        // so many hundredths at most
	AvoidClass                       // no tube of these classes
	KeepTube                         // these tubes
	NeverTube                        // not these
	OnlyTubes                        // these and no others
	AtMostOneOf                      // of these tubes one at most
)

// Limit is one limit as data.
type Limit struct {
	Kind  LimitKind
	Most  int      // tubes, or hundredths
	Names []string // ids or classes
}

// String is the limit in words: the one place that has them.
func (l Limit) String() string {
	names := strings.Join(l.Names, ", ")
	switch l.Kind {
	case MostTubes:
		if l.Most == 1 {
			return "at most 1 tube"
		}
		return fmt.Sprintf("at most %d tubes", l.Most)
	case MostSpent:
		return "a budget of " + money(l.Most)
	case AvoidClass:
		return "avoid " + names
	case KeepTube:
		return "keep " + names
	case NeverTube:
		return "never " + names
	case OnlyTubes:
		return "only " + names
	case AtMostOneOf:
		return "at most one of " + names
	}
	return "a limit of no kind"
}
