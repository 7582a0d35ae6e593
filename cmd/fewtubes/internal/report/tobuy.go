package report

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/solver"
)

// count says what is to buy, where fewest to buy come first.
func (c *Choice) count(a *solver.Answer) {
	if !a.Limits.FewestToBuy {
		return
	}
	c.Minimised, c.ToBuy = []string{"tubes to buy", "tubes"}, a.ToBuy
	for _, n := range a.NeedsToBuy {
		c.NeedsToBuy = append(c.NeedsToBuy, c.need(n))
	}
}

// has reports whether the painter has a tube, by the catalogue or by the limits.
func (c *Choice) has(t *catalog.Tube) bool {
	return t.Have || slices.Contains(c.problem.Limits.Own, t.ID)
}

// Fewest is a palette of fewer tubes in all, with more of them to buy.
type Fewest struct {
	Tubes []string    `json:"tubes"`
	Buy   []string    `json:"buy"`
	Price shown.Cents `json:"price"`
}

// OfferFewest adds such a palette; nil: there is none.
func (c *Choice) OfferFewest(p *solver.Palette) {
	if p == nil {
		return
	}
	c.Fewest = &Fewest{Tubes: p.Tubes, Buy: []string{}, Price: shown.Cents(p.Price)}
	for _, id := range p.Tubes {
		if !c.has(c.tube(id)) {
			c.Fewest.Buy = append(c.Fewest.Buy, id)
		}
	}
}

// FewestSentence offers the palette of fewest tubes in all; empty: it is the answer.
func (c *Choice) FewestSentence() string {
	if c.Fewest == nil {
		return ""
	}
	return fmt.Sprintf("Fewest in all: %s, with %d to buy for %s (--fewest all): %s.", shown.Counted(len(c.Fewest.Tubes), "tube"), len(c.Fewest.Buy), c.Fewest.Price, shown.Listed(c.Names(c.Fewest.Tubes), "and"))
}

// mostAtHome tubes that are not used are named.
const mostAtHome = 8

// BuySentence says what to buy for the best palette and which of the tubes at hand it
// takes; empty where that was not asked.
func (c *Choice) BuySentence() string {
	if c.Minimised == nil || len(c.Palettes) == 0 {
		return ""
	}
	best := &c.Palettes[0]
	out := "Nothing to buy."
	if n := len(best.Buy); n > 0 {
		var buy []string
		for _, id := range best.Buy {
			buy = append(buy, fmt.Sprintf("%s (%s)", c.name(id), shown.Cents(c.tube(id).Price)))
		}
		out = fmt.Sprintf("To buy, %s: %s.", shown.Spelled(n), shown.Listed(buy, "and"))
	}
	var idle []string
	own := len(best.Tubes) - len(best.Buy)
	for i := range c.problem.Tubes {
		t := &c.problem.Tubes[i]
		if c.has(t) && !slices.Contains(best.Tubes, t.ID) {
			idle = append(idle, t.ID)
		}
	}
	all := own + len(idle)
	switch {
	case all == 0:
		return out
	case own == 0:
		return out + " The palette takes none of the tubes you have."
	case all == 1:
		return out + " The palette takes the one tube you have."
	case len(idle) == 0:
		return fmt.Sprintf("%s The palette takes all %s you have.", out, shown.Counted(all, "tube"))
	}
	names := c.Names(idle)
	if len(names) > mostAtHome+1 {
		names = append(names[:mostAtHome:mostAtHome], fmt.Sprintf("%d more", len(idle)-mostAtHome))
	}
	return fmt.Sprintf("%s The palette takes %d of the %s you have; %s can stay at home.", out, own, shown.Counted(all, "tube"), shown.Listed(names, "and"))
}

// toBuy is how many are to buy for the best palette, in a word.
func (c *Choice) toBuy() string {
	if n := len(c.Palettes[0].Buy); n > 0 {
		return shown.Spelled(n)
	}
	return "nothing"
}

// NeedsHeading stands above the needs of the minimum.
func (c *Choice) NeedsHeading() string {
	if c.ToBuy != nil {
		return "Why not fewer in all, with as many to buy"
	}
	return "Why not fewer"
}

// BeyondOwned says why the needs to buy can be followed by eye; empty: not all of
// them can.
func (c *Choice) BeyondOwned() string {
	seen := map[string]bool{}
	for _, n := range c.NeedsToBuy {
		for _, id := range n.OneOf {
			if seen[id] || c.has(c.tube(id)) {
				return ""
			}
			seen[id] = true
		}
	}
	if len(c.NeedsToBuy) == 1 {
		return "All the tubes you have together leave this need."
	}
	return fmt.Sprintf("All the tubes you have together leave these %s needs, and no tube answers two of them.", shown.Spelled(len(c.NeedsToBuy)))
}

func (c *Choice) writeNeedsToBuy(b *strings.Builder, s terminal.Style) {
	if len(c.NeedsToBuy) == 0 {
		return
	}
	terminal.Heading(b, s, "Why not fewer to buy")
	if line := c.BeyondOwned(); line != "" {
		b.WriteString(s.Wrap("  ", 2, line))
	}
	for _, n := range c.NeedsToBuy {
		b.WriteString(s.Wrap("  ", 4, c.NeedSentence(n)+"."))
	}
}
