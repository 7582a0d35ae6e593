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

// Limit is one limit, or several of a kind, as data.
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
		return fmt.Sprintf("a budget of %d.%02d", l.Most/100, l.Most%100)
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

func maxTubesWords(n int) string        { return Limit{Kind: MostTubes, Most: n}.String() }
func budgetWords(hundredths int) string { return Limit{Kind: MostSpent, Most: hundredths}.String() }
func avoidWords(class string) string {
	return Limit{Kind: AvoidClass, Names: []string{class}}.String()
}
func keepWords(id string) string    { return Limit{Kind: KeepTube, Names: []string{id}}.String() }
func neverWords(id string) string   { return Limit{Kind: NeverTube, Names: []string{id}}.String() }
func onlyWords(ids []string) string { return Limit{Kind: OnlyTubes, Names: ids}.String() }
func groupWords(ids []string) string {
	return Limit{Kind: AtMostOneOf, Names: ids}.String()
}
