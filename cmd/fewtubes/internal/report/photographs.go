package report

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/cmd/fewtubes/internal/sample"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/colour"
	"fewtubes/solver"
)

// Photographs are those of a scene, looked at as a broad brush lays them in, and what is
// to be asked about them.
type Photographs struct {
	Names     []string
	Brushed   *sample.Brushed // of those that could be read, in the order of Names; nil: none
	Unread    []Unread
	Tolerance float64
}

// Unread is a photograph of which nothing is known.
type Unread struct {
	Name string `json:"name"`
	Why  string `json:"why"`
}

// Covered is what a palette reaches of photographs.
type Covered struct {
	Photographs []CoveredPhotograph `json:"photographs,omitempty"`
	NameToo     []NameToo           `json:"name_too,omitempty"` // where a photograph is covered too little
	Unread      []Unread            `json:"photographs_unread,omitempty"`
}

// CoveredPhotograph is one of them; parts are 0..1.
type CoveredPhotograph struct {
	Name    string               `json:"name"`
	Within  shown.TenThousandths `json:"within"`  // the scene's tolerance
	Ceiling shown.TenThousandths `json:"ceiling"` // would be with all tubes together
}

// NameToo is a colour that the palette misses and all tubes together reach.
type NameToo struct {
	Name       string               `json:"name"`
	Lab        shown.Lab            `json:"lab"`
	DE         shown.Hundredths     `json:"de"`   // of the nearest mix
	Area       shown.TenThousandths `json:"area"` // of the photographs, with what it brings along
	Photograph string               `json:"photograph"`
	X          shown.TenThousandths `json:"x"`
	Y          shown.TenThousandths `json:"y"`
}

// tooLittle is the part of a photograph below which the colours named do not stand for it.
const tooLittle = 0.95

// mostNamed are the colours said to be named, too.
const mostNamed = 3

// Cover says what a palette reaches of photographs; with all the tubes that limits allow
// beside it they would be reached as far as Ceiling says. The error is that of the
// session, or the context's.
func Cover(ctx context.Context, session *solver.Session, p *Photographs, palette []string, limits *solver.Limits) (c Covered, err error) {
	c.Unread = p.Unread
	if p.Brushed == nil {
		return c, nil
	}
	allowed, err := session.Allowed(limits)
	if err != nil {
		return c, err
	}
	all := slices.Clone(palette)
	for _, t := range allowed {
		all = append(all, t.ID)
	}
	colours := p.Brushed.Colours()
	off, err := session.Nearest(ctx, palette, colours, p.Tolerance)
	if err != nil {
		return c, err
	}
	in, left := make([]bool, len(colours)), []int{}
	var missed []colour.Lab
	for i, n := range off {
		if in[i] = n.DE <= p.Tolerance; !in[i] {
			left, missed = append(left, i), append(missed, colours[i])
		}
	}
	parts := p.Brushed.Parts(in)
	nearest, err := session.Nearest(ctx, all, missed, p.Tolerance)
	if err != nil {
		return c, err
	}
	beyond := make([]float64, len(colours))
	for k, i := range left {
		if nearest[k].DE <= p.Tolerance {
			in[i], beyond[i] = true, off[i].DE-p.Tolerance
		}
	}
	few := false
	for k, ceiling := range p.Brushed.Parts(in) {
		c.Photographs = append(c.Photographs, CoveredPhotograph{p.Names[k], shown.TenThousandths(parts[k]), shown.TenThousandths(ceiling)})
		few = few || parts[k] < tooLittle
	}
	if !few {
		return c, nil
	}
	for _, l := range p.Brushed.Leaves(beyond, mostNamed) {
		lab := shown.LabOf(l.Lab)
		near, err := session.Nearest(ctx, palette, []colour.Lab{l.Lab}, p.Tolerance)
		if err != nil {
			return c, err
		}
		named := NameToo{Name: colour.Name(l.Lab).String(), Lab: lab, DE: shown.Nearest(near[0].DE), Area: shown.TenThousandths(l.Area)}
		if at := l.At; at != nil {
			named.Photograph, named.X, named.Y = at.Photo, shown.TenThousandths(at.X), shown.TenThousandths(at.Y)
		}
		c.NameToo = append(c.NameToo, named)
	}
	return c, nil
}

// Whole is the part of all photographs within reach, each counting alike, and what they
// are called together.
func (c *Covered) Whole() (within shown.Millionths, of string) {
	for _, p := range c.Photographs {
		within += shown.Millionths(float64(p.Within) / float64(len(c.Photographs)))
	}
	if len(c.Photographs) == 1 {
		return within, "picture"
	}
	return within, "pictures"
}

// sentences say what is reached of each photograph, and what else to name; chosen: the
// palette was chosen for the named colours.
func (c *Covered) sentences(all string, chosen bool) (out []string) {
	var each []string
	short := false
	for _, p := range c.Photographs {
		words := p.Name + " " + p.Within.Percent()
		if p.Ceiling-p.Within >= 0.0005 {
			words += fmt.Sprintf(" (%s: %s)", all, p.Ceiling.Percent())
		}
		each = append(each, words)
		short = short || p.Within < tooLittle
	}
	if len(each) > 0 {
		out = append(out, "Within reach of the photographs, seen as a broad brush lays them in: "+strings.Join(each, ", ")+".")
	}
	if len(c.NameToo) > 0 {
		var named []string
		for _, n := range c.NameToo {
			named = append(named, fmt.Sprintf("%s, %s, %s of %s, ΔE00 %s", n.Name, scene.Spell(n.Lab.Colour()), shown.Ninth(float64(n.X), float64(n.Y)), n.Photograph, n.DE))
		}
		lead := "What is missed most there"
		if chosen {
			lead = "The colours named do not stand for all of that: name " + these(len(named)) + " too"
		}
		out = append(out, lead+": "+strings.Join(named, "; ")+".")
	} else if short {
		out = append(out, "What is missed there is out of reach of them all, or scattered.")
	}
	for _, u := range c.Unread {
		out = append(out, u.sentence())
	}
	return out
}

func (u *Unread) sentence() string {
	return fmt.Sprintf("What is reached of the photograph %s is not known: %s.", u.Name, u.Why)
}

// Cover says what each palette of a comparison reaches of the scene's photographs.
func (out *Comparison) Cover(each []Covered) {
	for i := range out.Palettes {
		out.Palettes[i].Covered = each[i]
	}
}

// CoveredSentences say what the best palette reaches of the scene's photographs.
func (c *Choice) CoveredSentences() []string {
	if c.Schema == schemaCheck {
		return c.sentences("all the tubes", false)
	}
	return c.sentences("all the allowed tubes", true)
}

// briefCovered is what a palette that was checked reaches of the photographs, for the
// heading of its tubes; --more says it whole.
func (c *Choice) briefCovered() string {
	if c.Schema != schemaCheck || len(c.Photographs) == 0 {
		return ""
	}
	var each []string
	for _, p := range c.Photographs {
		each = append(each, p.Within.Percent()+" of "+p.Name)
	}
	return "; reaches " + shown.InARow(each)
}

func (c *Choice) writeCovered(b *strings.Builder, s terminal.Style) {
	for i, line := range c.CoveredSentences() {
		if i == 0 {
			b.WriteByte('\n')
		}
		b.WriteString(s.Wrap("", 0, line))
	}
}

func these(n int) string {
	switch n {
	case 1:
		return "this one"
	case 2:
		return "these two"
	}
	return "these three"
}
