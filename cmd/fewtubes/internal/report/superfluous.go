package report

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/solver"
)

func (c *Choice) addSuperfluous(a *solver.Answer) {
	for _, x := range a.Superfluous {
		x.Brings = slices.Clone(x.Brings)
		for i := range x.Brings {
			g, tol := &x.Brings[i], c.toleranceOf(x.Brings[i].Target)
			g.From, g.To = shown.DE(float64(g.From), tol, float64(g.From) <= tol), shown.DE(float64(g.To), tol, float64(g.To) <= tol)
		}
		c.Superfluous = append(c.Superfluous, x)
	}
	if a.Smaller != nil {
		smaller := c.palette(a.Smaller)
		c.Smaller = &smaller
	}
}

// FewerHeading heads what is said of tubes that the palette could do without.
func (c *Choice) FewerHeading() string {
	if len(c.Superfluous) == 0 && c.Smaller == nil {
		return ""
	}
	return "Fewer tubes reach as much"
}

// FewerIntro says why they are there all the same.
func (c *Choice) FewerIntro() string {
	switch len(c.Superfluous) {
	case 0:
		return "The palette above has more since it comes nearer to what the limits put out of reach."
	case 1:
		return "Without this tube the palette reaches as many colours; it only brings nearer what the limits put out of reach."
	}
	return "Without any one of these the palette reaches as many colours; they only bring nearer what the limits put out of reach."
}

// SuperfluousEntries say of each what it buys.
func (c *Choice) SuperfluousEntries() (out []entry) {
	for _, x := range c.Superfluous {
		out = append(out, entry{c.name(x.Tube), superfluousSentence(x)})
	}
	return out
}

// superfluousSentence says what a tube buys and what is left without it.
func superfluousSentence(x solver.Superfluous) string {
	out := "brings nothing nearer that shows"
	if len(x.Brings) > 0 {
		brought := func(g solver.Gain) string { return fmt.Sprintf("%s from %s to %s", g.Target, g.From, g.To) }
		out = "brings " + shown.Listed(told(x.Brings, false, brought), "and")
	}
	return fmt.Sprintf("%s; without it %s %s, price %s", out, shown.Spelled(x.Tubes), shown.Plural(x.Tubes, "tube"), x.Price)
}

// SmallerSentence offers the smallest palette that misses as little.
func (c *Choice) SmallerSentence() string {
	p, n := c.Smaller, len(c.Smaller.Tubes)
	other := ""
	for i, t := range c.Palettes[0].Targets {
		if t.Reached != p.Targets[i].Reached {
			other = ", though other colours"
		}
	}
	verb := "miss"
	if n == 1 {
		verb = "misses"
	}
	return fmt.Sprintf("%s %s %s as little%s: price %s, worst %s, mean %s",
		shown.Capital(shown.Spelled(n)), shown.Plural(n, "tube"), verb, other, p.Price, p.WorstDE, p.MeanDE)
}

func (c *Choice) writeFewer(b *strings.Builder, s terminal.Style) {
	if c.FewerHeading() == "" {
		return
	}
	terminal.Heading(b, s, c.FewerHeading())
	b.WriteString(s.Wrap("  ", 2, c.FewerIntro()))
	for _, e := range c.SuperfluousEntries() {
		b.WriteString(s.Wrap("  ", 4, e.Word+": "+e.Says))
	}
	if c.Smaller != nil {
		b.WriteString(s.Wrap("  ", 4, c.SmallerSentence()+": "+strings.Join(c.Smaller.Tubes, ", ")))
	}
}
