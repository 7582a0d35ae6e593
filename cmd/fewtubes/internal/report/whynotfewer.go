package report

import (
	"context"
	"fmt"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/solver"
)

// Count is a proof of the minimum by counting: no tube answers needs that count for
// more than MostOfOne, of Sum in all.
type Count struct {
	Needs     []Need `json:"needs"` // each with how often it counts
	MostOfOne int    `json:"most_of_one"`
	Sum       int    `json:"sum"`
}

// countNeeds adds the proof by counting where there is one.
func (c *Choice) countNeeds(a *solver.Answer) {
	if len(a.Conflict) > 0 || a.Minimum.Proof == solver.Interrupted {
		return
	}
	found, err := solver.CountNeeds(context.Background(), a)
	if err != nil || found == nil {
		return
	}
	c.Count = &Count{MostOfOne: found.MostOfOne, Sum: found.Sum}
	for i, n := range found.Needs {
		need := c.need(n)
		need.Times = found.Times[i]
		c.Count.Needs = append(c.Count.Needs, need)
	}
}

// ShownNeeds are the needs that prove the minimum by eye where there are such, or
// by counting, else those the solver used.
func (c *Choice) ShownNeeds() []Need {
	switch {
	case len(c.Disjoint) > 0:
		return c.Disjoint
	case c.Count != nil:
		return c.Count.Needs
	}
	return c.Needs
}

// CountSentence is the proof a painter can follow, or nothing.
func (c *Choice) CountSentence() string {
	if n := len(c.Disjoint); n > 1 {
		return fmt.Sprintf("These %s needs ask for %s different tubes, since no tube answers two of them.", shown.Spelled(n), shown.Spelled(n))
	}
	if c.Count == nil || len(c.Disjoint) > 0 || len(c.Count.Needs) < 2 {
		return ""
	}
	n, fewer := c.Count, c.Minimum.Tubes-1
	if n.Sum == len(n.Needs) && n.MostOfOne == 1 {
		return fmt.Sprintf("These %s needs ask for %s different tubes, since no tube answers two of them.", shown.Spelled(n.Sum), shown.Spelled(n.Sum))
	}
	tubes, come := shown.Spelled(fewer)+" "+shown.Plural(fewer, "tube"), "come"
	if fewer == 1 {
		come = "comes"
	}
	if n.Sum == len(n.Needs) {
		return fmt.Sprintf("No tube answers more than %s of these %s needs, so that %s %s to %s at most.",
			shown.Spelled(n.MostOfOne), shown.Spelled(n.Sum), tubes, come, shown.Spelled(fewer*n.MostOfOne))
	}
	return fmt.Sprintf("Some of these needs count more than once, and all come to %d. No tube answers more than %d of that, so that %s %s to %d at most.",
		n.Sum, n.MostOfOne, tubes, come, fewer*n.MostOfOne)
}

// times says how often.
func times(n int) string {
	if n == 2 {
		return "twice"
	}
	return shown.Spelled(n) + " times"
}
