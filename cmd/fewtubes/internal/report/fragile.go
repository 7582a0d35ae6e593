package report

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/solver"
)

// Mind is a mix that a small error of hand or model can spoil, and why.
type Mind struct {
	Target  string
	Reasons []string
}

// unseen is a share that no digit shows.
const unseen = 0.00005

// Minds puts what is fragile in words, by target; what leans on an estimate is
// in Leans.
func (c *Choice) Minds() []Mind {
	var out []Mind
	for _, f := range c.Fragile {
		if f.Why == string(solver.OnAnEstimate) {
			continue
		}
		if f.Why == string(solver.OnATrace) && f.By < unseen {
			continue
		}
		if len(out) == 0 || out[len(out)-1].Target != f.Target {
			out = append(out, Mind{Target: f.Target})
		}
		last := &out[len(out)-1]
		if f.Why == string(solver.OnAHair) {
			last.Reasons = append(last.Reasons, fmt.Sprintf("within reach by only %s", digits(float64(f.By), 2)))
			continue
		}
		last.Reasons = append(last.Reasons, fmt.Sprintf("%s of %s", f.By.Percent(), c.name(f.Tube)))
	}
	return out
}

// Sentence is the entry in one line.
func (m Mind) Sentence() string { return m.Target + ": " + strings.Join(m.Reasons, ", ") }

// Lean is a tube whose film constants are estimated and the colours that are
// reached with it.
type Lean struct {
	Tube    string
	Targets []string
}

// Leans lists what the best palette owes to estimated tubes, by tube.
func (c *Choice) Leans() []Lean {
	var out []Lean
	for _, f := range c.Fragile {
		if f.Why != string(solver.OnAnEstimate) {
			continue
		}
		i := slices.IndexFunc(out, func(l Lean) bool { return l.Tube == c.name(f.Tube) })
		if i < 0 {
			i = len(out)
			out = append(out, Lean{Tube: c.name(f.Tube)})
		}
		out[i].Targets = append(out[i].Targets, f.Target)
	}
	return out
}
