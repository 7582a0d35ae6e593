package report

import (
	"fmt"
	"slices"
	"strings"

	"github.com/rivo/uniseg"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/solver"
)

// trait is one line of the side-by-side table.
type trait struct {
	Name  string
	Cells []string
}

// Traits is the side-by-side table, the same for text and page.
func (c *Comparison) Traits() []trait {
	line := func(name string, cell func(Compared) string) trait {
		t := trait{Name: name}
		for _, p := range c.Palettes {
			t.Cells = append(t.Cells, cell(p))
		}
		return t
	}
	all := len(c.Palettes[0].Targets)
	of := ""
	if c.reachable > 0 && c.reachable < all {
		of = fmt.Sprintf(" of the %d in reach of all tubes", c.reachable)
	}
	out := []trait{
		line("tubes", func(p Compared) string { return fmt.Sprint(len(p.Tubes)) }),
		line("indicative price", func(p Compared) string { return p.Price.String() }),
		line("hazards", func(p Compared) string { return orNone(strings.Join(p.Hazards, ", ")) }),
		line("colours reached", func(p Compared) string { return fmt.Sprintf("%d of %d", p.Reached, all) }),
		line("of the scene's area", func(p Compared) string { return p.AreaReached.Percent() }),
		line("worst ΔE00"+of, func(p Compared) string { return p.WorstDE.String() }),
		line("mean ΔE00"+of, func(p Compared) string { return p.MeanDE.String() }),
	}
	if of != "" {
		out = append(out, line("worst ΔE00 of all", func(p Compared) string { return p.WorstOfAllDE.String() }))
	}
	if slices.ContainsFunc(c.Palettes, func(p Compared) bool { return p.GreensWorstDE > 0 }) {
		out = append(out, line("worst green ΔE00", func(p Compared) string { return p.GreensWorstDE.String() }))
	}
	if c.Palettes[0].Volume > 0 {
		out = append(out, line("breadth of all mixes", func(p Compared) string { return fmt.Sprint(p.Volume) }))
	}
	for i, photo := range c.Palettes[0].Photographs {
		out = append(out, line("of "+photo.Name+", as a brush sees it", func(p Compared) string { return p.Photographs[i].Within.Percent() }))
	}
	return append(out, line("still reached, of "+fmt.Sprint(solver.UsualDraws)+" plausible boxes", func(p Compared) string { return fmt.Sprint(p.Holds) }))
}

// Verdict says in one sentence how many colours each palette reaches.
func (c *Comparison) Verdict() string {
	var out []string
	for _, p := range c.Palettes {
		out = append(out, fmt.Sprintf("%d by \"%s\" with %s", p.Reached, p.Name, shown.Counted(len(p.Tubes), "tube")))
	}
	return fmt.Sprintf("Reached of the %s: %s.", shown.Counted(len(c.Palettes[0].Targets), "colour"), strings.Join(out, "; "))
}

func orNone(s string) string {
	if s == "" {
		return "none"
	}
	return s
}

// Text is the comparison for a terminal.
func (c *Comparison) Text(s terminal.Style) string {
	var b strings.Builder
	b.WriteString(s.Wrap("", 0, c.choice.headline()) + "\n")
	b.WriteString(s.Wrap("", 0, c.Verdict()) + "\n")
	for _, p := range c.Palettes {
		swatches := ""
		for _, id := range p.Tubes {
			swatches += s.Swatch(c.choice.masstone(id), 2)
		}
		b.WriteString(s.WrapAfter(terminal.Row(swatches, p.Name+":")+" ", strings.Join(p.Tubes, ", ")))
	}
	b.WriteByte('\n')
	c.writeTraits(&b)
	for _, u := range c.Palettes[0].Unread {
		b.WriteString(s.Wrap("", 0, u.sentence()))
	}
	c.writeDiffer(&b, s)
	s.Close(&b, c.cautions())
	return b.String()
}

func (c *Comparison) writeTraits(b *strings.Builder) {
	traits := append([]trait{{Cells: c.names()}}, c.Traits()...)
	name := terminal.Widest(traits, func(t trait) string { return t.Name })
	for _, t := range traits {
		line := terminal.Pad(t.Name, name)
		for i, cell := range t.Cells {
			width := terminal.Widest(traits, func(t trait) string { return t.Cells[i] })
			line += "  " + terminal.Pad(cell, -width)
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}

func (c *Comparison) names() (out []string) {
	for _, p := range c.Palettes {
		out = append(out, p.Name)
	}
	return out
}

func (c *Comparison) writeDiffer(b *strings.Builder, s terminal.Style) {
	if len(c.Differ) == 0 {
		terminal.Heading(b, s, "They serve every colour alike.")
		return
	}
	terminal.Heading(b, s, "Where they differ (ΔE00, x out of reach)")
	name := terminal.Widest(c.Differ, func(d Difference) string { return d.Target })
	cell := func(m Target) string {
		if m.Reached {
			return m.DE.String() + " "
		}
		return m.DE.String() + "x"
	}
	swatch := len(terminal.Visible(s.Swatch(c.Differ[0].Mixes[0].Lab.Colour(), 3)))
	line := strings.Repeat(" ", 2+swatch+min(swatch, 1)+name)
	for _, p := range c.Palettes {
		line += "  " + terminal.Pad(p.Name, -max(8, swatch))
	}
	b.WriteString(strings.TrimRight(line, " ") + "\n")
	for _, d := range c.Differ {
		line := "  " + s.Swatch(d.Mixes[0].Lab.Colour(), 3) + strings.Repeat(" ", min(swatch, 1)) + terminal.Pad(d.Target, name)
		for i, m := range d.Mixes {
			width := max(8, swatch, uniseg.StringWidth(c.Palettes[i].Name)) - swatch
			line += "  " + s.Swatch(m.MixLab.Colour(), 3) + terminal.Pad(cell(m), -width)
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}

// Cautions are those of every tube in any of the palettes.
func (c *Comparison) cautions() []shown.Caution {
	var ids []string
	for _, t := range c.Tubes {
		ids = append(ids, t.ID)
	}
	return c.choice.Cautions(Palette{Tubes: ids})
}
