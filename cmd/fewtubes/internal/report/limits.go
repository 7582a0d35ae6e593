package report

import (
	"fmt"
	"strings"

	"fewtubes/solver"
)

// LimitWords puts limits in words as the solver does when they conflict, in a
// fixed order; a limit that is not set has none.
func LimitWords(l *solver.Limits) []string {
	var out []string
	say := func(set bool, words fmt.Stringer) {
		if set {
			out = append(out, words.String())
		}
	}
	most, bounded := l.Budget.Most()
	say(l.MaxTubes > 0, solver.Limit{Kind: solver.MostTubes, Most: l.MaxTubes})
	say(bounded, solver.Limit{Kind: solver.MostSpent, Most: most})
	say(len(l.Avoid) > 0, solver.Limit{Kind: solver.AvoidClass, Names: l.Avoid})
	say(len(l.Keep) > 0, solver.Limit{Kind: solver.KeepTube, Names: l.Keep})
	say(len(l.Never) > 0, solver.Limit{Kind: solver.NeverTube, Names: l.Never})
	say(len(l.Only) > 0, solver.Limit{Kind: solver.OnlyTubes, Names: l.Only})
	if len(l.Own) > 0 {
		out = append(out, "owned already: "+strings.Join(l.Own, ", "))
	}
	if l.FewestToBuy {
		out = append(out, "fewest to buy first")
	}
	for _, group := range l.AtMostOne {
		say(len(group) > 1, solver.Limit{Kind: solver.AtMostOneOf, Names: group})
	}
	return out
}
