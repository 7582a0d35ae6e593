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
	say := func(set bool, format string, args ...any) {
		if set {
			out = append(out, fmt.Sprintf(format, args...))
		}
	}
	list := func(words []string) string { return strings.Join(words, ", ") }
	say(l.MaxTubes == 1, "at most 1 tube")
	say(l.MaxTubes > 1, "at most %d tubes", l.MaxTubes)
	most, bounded := l.Budget.Most()
	say(bounded, "a budget of %d.%02d", most/100, most%100)
	say(len(l.Avoid) > 0, "avoid %s", list(l.Avoid))
	say(len(l.Keep) > 0, "keep %s", list(l.Keep))
	say(len(l.Never) > 0, "never %s", list(l.Never))
	say(len(l.Only) > 0, "only %s", list(l.Only))
	say(len(l.Own) > 0, "owned already: %s", list(l.Own))
	for _, group := range l.AtMostOne {
		say(len(group) > 1, "at most one of %s", list(group))
	}
	return out
}
