package report

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/solver"
)

// Mind is a mix that a small error of hand or model can spoil, and why.
type Mind struct {
	Target  string
	Reasons []string
}

// asShown keeps of what is fragile what the recipe shown holds, with its share in
// that: parts may do without a tube of which the nearest mix takes a trace.
func (c *Choice) asShown(found []solver.Fragile) (out []Fragile) {
	for _, f := range found {
		by := f.By
		if f.Tube != "" {
			by = c.shareShown(f.Target, f.Tube)
		}
		if by == 0 && f.Tube != "" || f.Why == solver.OnATrace && by >= solver.Trace {
			continue
		}
		out = append(out, Fragile{f.Target, string(f.Why), f.Tube, shown.Millionths(by)})
	}
	return out
}

// shareShown is the share of a tube, by volume, in the recipe of the best palette
// for a target; 0 where it is not in it.
func (c *Choice) shareShown(target, tube string) float64 {
	i := slices.IndexFunc(c.Palettes[0].Targets, func(t Target) bool { return t.Name == target })
	if i < 0 {
		return 0
	}
	t := &c.Palettes[0].Targets[i]
	shares := t.Shares // of a coarse mix the volumes are shown
	if !t.Coarse() {
		shares = (&hand.Recipe{Parts: t.piles()}).Shares()
	}
	for _, s := range shares {
		if s.ID == tube {
			return s.Fraction
		}
	}
	return 0
}

// Minds puts what is fragile in words, by target; what leans on an estimate is
// in Leans.
func (c *Choice) Minds() []Mind {
	var out []Mind
	for _, f := range c.Fragile {
		if f.Why == string(solver.OnAnEstimate) {
			continue
		}
		if f.Why == string(solver.OnATrace) && f.By < shown.Unseen {
			continue
		}
		if len(out) == 0 || out[len(out)-1].Target != f.Target {
			out = append(out, Mind{Target: f.Target})
		}
		last := &out[len(out)-1]
		if f.Why == string(solver.OnAHair) {
			last.Reasons = append(last.Reasons, fmt.Sprintf("within reach by only %s", shown.Digits(float64(f.By), 2)))
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
