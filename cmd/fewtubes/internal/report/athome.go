package report

import (
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/solver"
)

// Spare is the tube that could best stay at home.
type Spare struct {
	Tube   string           `json:"tube"`
	Lost   []Loss           `json:"lost"`
	MeanDE shown.Hundredths `json:"mean_de"`
}

func (c *Choice) addAtHome(l *Learned) {
	c.AtHome = l.AtHome
	if s := l.Spare; s != nil {
		c.Spare = &Spare{s.Tube, c.losses(s.Lost), shown.Nearest(s.MeanDE)}
	}
}

// homeSentence says which tubes could stay at home together, or which one if one
// has to.
func (c *Choice) homeSentence() string {
	switch {
	case c.reached() == 0:
		return "" // nothing can be lost
	case c.AtHome != nil && len(c.AtHome.Sets) > 0:
		return c.leavingSentence()
	case c.Spare != nil:
		var lost []string
		for _, l := range c.Spare.Lost {
			lost = append(lost, fmt.Sprintf("%s (%s)", l.Target, l.BestDE))
		}
		return fmt.Sprintf("Every tube is needed. If one has to stay at home, let it be %s: that loses %s and brings the mean to %s.",
			c.name(c.Spare.Tube), shown.Listed(lost, "and"), c.Spare.MeanDE)
	}
	return ""
}

// leavingSentence names the tubes that can stay at home, or those to take where
// they are fewer.
func (c *Choice) leavingSentence() string {
	all, first := c.Palettes[0].Tubes, c.AtHome.Sets[0].Tubes
	named := func(s solver.Leaving) string { return shown.Listed(c.Names(s.Tubes), "and") }
	out := shown.Capital(named(c.AtHome.Sets[0])) + " could stay at home"
	switch n := len(first); {
	case 2*n > len(all):
		named = func(s solver.Leaving) string { return shown.Listed(c.Names(without(all, s.Tubes)), "and") }
		out = fmt.Sprintf("%s will do; the other %s could stay at home together, and no larger set", shown.Capital(named(c.AtHome.Sets[0])), shown.Counted(n, "tube"))
	case n > 1:
		out += " together, and no larger set"
	}
	out += fmt.Sprintf(": no colour is lost (mean then %s).", c.AtHome.Sets[0].MeanDE)
	words := told(c.AtHome.Sets[1:], c.AtHome.Capped, func(o solver.Leaving) string {
		return fmt.Sprintf("%s (mean then %s)", named(o), o.MeanDE)
	})
	if len(words) > 0 {
		out += " Or instead " + strings.Join(words, "; ") + "."
	}
	return out
}
