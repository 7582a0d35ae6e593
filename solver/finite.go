package solver

import (
	"fmt"
	"math"
	"slices"
)

// finite is the door through which numbers leave: it names the first that is
// none.
func (a *Answer) finite() error {
	for i := range a.Palettes {
		if err := a.Palettes[i].finite(); err != nil {
			return fmt.Errorf("palette %d: %w", i+1, err)
		}
	}
	for _, n := range a.Needs {
		if !(n.BestDE >= 0) { // +Inf: no tube is left to mix from
			return fmt.Errorf("the need of %q: the difference is %v", n.Target, n.BestDE)
		}
	}
	for _, x := range a.Superfluous {
		for _, g := range x.Brings {
			if !isFinite(float64(g.From + g.To)) {
				return fmt.Errorf("what %s brings %q: from %v to %v", x.Tube, g.Target, g.From, g.To)
			}
		}
	}
	if a.Smaller != nil {
		if err := a.Smaller.finite(); err != nil {
			return fmt.Errorf("the smaller palette: %w", err)
		}
	}
	return finiteMisses(slices.Concat(a.Unreachable, a.Missed))
}

func (p *Palette) finite() error {
	if !isFinite(p.WorstDE + p.MeanDE + p.WorstOfAllDE) {
		return fmt.Errorf("the worst and mean difference are %v and %v, the worst of all %v", p.WorstDE, p.MeanDE, p.WorstOfAllDE)
	}
	for i := range p.Targets {
		o := &p.Targets[i]
		if !isFinite(o.DE+o.PartsDE) || !o.Mix.Finite() {
			return fmt.Errorf("target %q: the mix is %v, off by %v, in parts by %v", o.Target, o.Mix, o.DE, o.PartsDE)
		}
	}
	return nil
}

func finiteMisses(misses []Miss) error {
	for _, m := range misses {
		if !isFinite(m.BestDE + m.HelpDE) {
			return fmt.Errorf("the miss of %q: the differences are %v and %v", m.Target, m.BestDE, m.HelpDE)
		}
	}
	return nil
}

func isFinite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
