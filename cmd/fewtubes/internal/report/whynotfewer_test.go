package report

import (
	"testing"

	"fewtubes/solver"
)

// A proof by counting is told where needs that share no tube do not prove the minimum.
func TestCountSentence(t *testing.T) {
	counted := func(mostOfOne int, times ...int) *Count {
		c := &Count{MostOfOne: mostOfOne}
		for _, n := range times {
			c.Needs, c.Sum = append(c.Needs, Need{Target: "reed", OneOf: []string{"a", "b"}, Times: n}), c.Sum+n
		}
		return c
	}
	for _, c := range []struct {
		count    *Count
		disjoint []Need
		tubes    int
		want     string
	}{
		{counted(2, 1, 1, 1, 1, 1), nil, 3, "No tube answers more than two of these five needs, so that two tubes come to four at most."},
		{counted(2, 1, 1, 1), nil, 2, "No tube answers more than two of these three needs, so that one tube comes to two at most."},
		{counted(2, 2, 1, 1, 1), nil, 3, "Some of these needs count more than once, and all come to 5. No tube answers more than 2 of that, so that two tubes come to 4 at most."},
		{counted(1, 1, 1), nil, 2, "These two needs ask for two different tubes, since no tube answers two of them."},
		{counted(2, 1, 1, 1), make([]Need, 2), 2, "These two needs ask for two different tubes, since no tube answers two of them."},
		{nil, nil, 2, ""},
	} {
		choice := &Choice{Minimum: solver.Minimum{Tubes: c.tubes}, Lessons: Lessons{Count: c.count, Disjoint: c.disjoint}}
		if got := choice.CountSentence(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
