package main

import (
	"context"
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/cmd/fewtubes/internal/sample"
	"fewtubes/gamut/colour"
	"fewtubes/solver"
)

// picturedJSON is the document of choose --picture. Parts are of all the photographs
// together, a stroke of the brush each, 0..1.
type picturedJSON struct {
	Schema       string               `json:"schema"`
	Title        string               `json:"title,omitempty"`
	Tolerance    shown.Hundredths     `json:"tolerance"`
	Light        string               `json:"light"`
	PaintsPerMix int                  `json:"paints_per_mix"`
	Prefer       string               `json:"prefer"`
	Limits       []string             `json:"limits"`
	Share        shown.TenThousandths `json:"share"` // to be reached, of the ceiling
	Brush        shown.TenThousandths `json:"brush"` // of the width
	Ceiling      shown.TenThousandths `json:"ceiling"`
	Within       shown.TenThousandths `json:"within"`
	OfCeiling    shown.TenThousandths `json:"of_ceiling"`
	Minimum      solver.Minimum       `json:"minimum"`
	Tubes        []tubelist.Line      `json:"tubes"`
	Price        shown.Cents          `json:"price"`
	Capped       bool                 `json:"capped"` // there are others as small
	Photographs  []picturedPhotoJSON  `json:"photographs"`
	GivenUp      []givenUpJSON        `json:"given_up"` // largest first
	Beyond       []givenUpJSON        `json:"beyond"`   // all the allowed tubes
	Named        int                  `json:"named"`    // colours of the scene
	Missed       []string             `json:"missed"`   // of those
	Needs        []pictureNeedJSON    `json:"needs"`
	NamedNeeds   []namedNeedJSON      `json:"named_needs"`
	Cautions     []shown.Caution      `json:"-"`
}

type picturedPhotoJSON struct {
	Name    string               `json:"name"`
	File    string               `json:"file"`
	Within  shown.TenThousandths `json:"within"` // of this one, counted again stroke by stroke
	Written string               `json:"written,omitempty"`
}

// givenUpJSON is a colour that is missed, with what is like it and less far out.
type givenUpJSON struct {
	Name       string               `json:"name"`
	Lab        shown.Lab            `json:"lab"`
	Mix        shown.Lab            `json:"mix"`
	DE         shown.Hundredths     `json:"de"`
	Fault      string               `json:"fault"`
	Area       shown.TenThousandths `json:"area"`
	Photograph string               `json:"photograph"`
	X          shown.TenThousandths `json:"x"`
	Y          shown.TenThousandths `json:"y"`
}

// pictureNeedJSON says that without one of these tubes so much of the picture is missed,
// such as the colour.
type pictureNeedJSON struct {
	Name  string               `json:"name"`
	Lab   shown.Lab            `json:"lab"`
	Area  shown.TenThousandths `json:"area"`
	OneOf []string             `json:"one_of"`
	Proof string               `json:"proof"`
}

// namedNeedJSON says that a colour of the scene takes one of these tubes.
type namedNeedJSON struct {
	Target string   `json:"target"`
	OneOf  []string `json:"one_of"`
	Proof  string   `json:"proof"`
}

const mostGivenUp = 5

func (p *pictured) document(ctx context.Context) (*picturedJSON, error) {
	a, l := p.answer, &p.problem.Limits
	d := &picturedJSON{
		Schema: "fewtubes/picture/1", Title: p.scene.Title, Tolerance: shown.Hundredths(p.scene.Tolerance), Light: p.scene.Light,
		PaintsPerMix: p.scene.Limits.PaintsPerMix, Prefer: string(p.problem.Prefer), Limits: append([]string{}, report.LimitWords(l)...),
		Share: shown.TenThousandths(p.share), Brush: shown.TenThousandths(p.brush), Ceiling: p.part(a.Ceiling), Within: p.part(a.Reached),
		OfCeiling: shown.TenThousandths(float64(a.Reached) / float64(max(a.Ceiling, 1))), Minimum: a.Minimum, Capped: a.Capped,
		Tubes: []tubelist.Line{}, GivenUp: []givenUpJSON{}, Beyond: []givenUpJSON{}, Missed: []string{}, Needs: []pictureNeedJSON{}, NamedNeeds: []namedNeedJSON{},
	}
	if d.PaintsPerMix == 0 {
		d.PaintsPerMix = 4
	}
	if d.Prefer == "" {
		d.Prefer = string(solver.Usual)
	}
	for i, photo := range p.photos {
		one := picturedPhotoJSON{Name: photo.Name, File: photo.File}
		if len(p.within) > i {
			one.Within, one.Written = shown.TenThousandths(p.within[i]), p.outs[i]
		}
		d.Photographs = append(d.Photographs, one)
	}
	if p.path != "" {
		d.Named = len(p.problem.Targets)
	}
	allowed, err := p.session.Allowed(l)
	if err != nil {
		return nil, err
	}
	var all []string
	for _, t := range allowed {
		all = append(all, t.ID)
	}
	strokes := p.brushed.Strokes()
	far, lost := make([]float64, len(a.Cells)), make([]float64, len(a.Cells))
	for i, cell := range a.Cells {
		switch {
		case strokes[i] == 0:
		case cell.Beyond:
			far[i] = 1 // how far is not told apart: each stands for what is like it
		case !cell.Within:
			lost[i] = cell.DE - p.scene.Tolerance
		}
	}
	if d.Beyond, err = p.leaves(ctx, far, all); err != nil {
		return nil, err
	}
	for _, n := range a.Needs {
		d.Needs = append(d.Needs, p.need(n, strokes))
	}
	for _, n := range a.Named {
		d.NamedNeeds = append(d.NamedNeeds, namedNeedJSON{n.Target, n.OneOf, n.Proof})
	}
	if a.Minimum.Tubes == 0 {
		return d, nil
	}
	if d.GivenUp, err = p.leaves(ctx, lost, a.Palettes[0]); err != nil {
		return nil, err
	}
	tubes := tubelist.List(p.problem.Tubes)
	for _, id := range a.Palettes[0] {
		d.Tubes = append(d.Tubes, tubelist.NewLine(tubes.Tube(id)))
	}
	d.Price, d.Cautions = shown.Cents(a.Palette.Price), tubes.Cautions(a.Palettes[0])
	for _, o := range a.Palette.Targets {
		if d.Named > 0 && !o.Reached {
			d.Missed = append(d.Missed, o.Target)
		}
	}
	return d, nil
}

func (p *pictured) part(strokes int) shown.TenThousandths {
	return shown.TenThousandths(float64(strokes) / float64(max(p.answer.Weight, 1)))
}

// leaves are the colours that stand for what lies beyond some tubes.
func (p *pictured) leaves(ctx context.Context, beyond []float64, tubes []string) ([]givenUpJSON, error) {
	list := p.brushed.Leaves(beyond, mostGivenUp)
	out := []givenUpJSON{}
	if len(list) == 0 {
		return out, nil
	}
	near, err := p.session.Nearest(ctx, tubes, labsOf(list), p.scene.Tolerance)
	if err != nil {
		return nil, err
	}
	for i, l := range list {
		lab, mix := shown.LabOf(l.Lab), shown.LabOf(near[i].Lab)
		off := colour.Direction(mix.Colour(), lab.Colour())
		g := givenUpJSON{Name: colour.Name(l.Lab).String(), Lab: lab, Mix: mix, DE: shown.Hundredths(off.DE).Rounded(), Fault: off.String(), Area: shown.TenThousandths(l.Area)}
		if at := l.At; at != nil {
			g.Photograph, g.X, g.Y = at.Photo, shown.TenThousandths(at.X), shown.TenThousandths(at.Y)
		}
		out = append(out, g)
	}
	return out, nil
}

func labsOf(list []sample.Left) (out []colour.Lab) {
	for _, l := range list {
		out = append(out, l.Lab)
	}
	return out
}

func (p *pictured) need(n solver.PictureNeed, strokes []int) pictureNeedJSON {
	all := p.brushed.Colours()
	weight := 0
	for _, c := range n.Colours {
		weight += strokes[c]
	}
	lab := all[n.Colours[0]]
	return pictureNeedJSON{Name: colour.Name(lab).String(), Lab: shown.LabOf(lab), Area: p.part(weight), OneOf: n.OneOf, Proof: solver.Searched}
}

func (d *picturedJSON) text(p *pictured, style terminal.Style) string {
	var b strings.Builder
	line := func(format string, args ...any) { b.WriteString(style.Wrap("", 0, fmt.Sprintf(format, args...))) }
	b.WriteString(style.Wrap("", 0, d.headline()))
	b.WriteByte('\n')
	line("All the allowed tubes together reach %s of %s, laid in with a brush as wide as %g %% of the width.", d.Ceiling.Percent(), d.pictures(), 100*float64(d.Brush))
	d.writeGivenUp(&b, style, "Beyond them all, part of the picture, where, ΔE00", d.Beyond)
	if len(p.answer.Palettes) == 0 {
		line("No palette within the limits reaches %g %% of that%s. Allow more tubes, or ask for less of the picture.", 100*float64(d.Share), d.besides(" besides the scene's colours"))
		return b.String()
	}
	b.WriteByte('\n')
	line("%s %s %s of that, and %s of %s. %s", shown.Capital(shown.Spelled(d.Minimum.Tubes)), tubesReach(d.Minimum.Tubes), d.OfCeiling.Percent(), d.Within.Percent(), d.pictures(), d.proof())
	if d.Named > 0 {
		words := "All of the scene's own colours are within reach, too."
		if n := len(d.Missed); n > 0 {
			words = fmt.Sprintf("Of the scene's own %s, %d out of reach: %s.", shown.Counted(d.Named, "colour"), n, shown.InARow(d.Missed))
		}
		line("%s", words)
	}
	d.writeTubes(&b, style)
	d.writeGivenUp(&b, style, "Given up, part of the picture, where, ΔE00", d.GivenUp)
	d.writePhotographs(&b, style)
	if style.More {
		d.writeNeeds(&b, style, p)
	}
	style.Close(&b, d.Cautions)
	if !style.More && len(d.Needs)+len(d.NamedNeeds) > 0 {
		line("--more: why fewer will not do.")
	}
	return b.String()
}

func (d *picturedJSON) headline() string {
	asked := append([]string{
		fmt.Sprintf("%g %% of what can be reached of %s", 100*float64(d.Share), d.pictures()),
		"tolerance ΔE00 " + d.Tolerance.String(), "light " + d.Light, fmt.Sprintf("at most %s in a mix", shown.Counted(d.PaintsPerMix, "paint")),
	}, d.Limits...)
	out := strings.Join(asked, "; ")
	if d.Title != "" {
		out = d.Title + ": " + out
	}
	return out
}

func (d *picturedJSON) pictures() string {
	if len(d.Photographs) == 1 {
		return "the picture"
	}
	return fmt.Sprintf("the %d pictures", len(d.Photographs))
}

func (d *picturedJSON) besides(words string) string {
	if d.Named == 0 {
		return ""
	}
	return words
}

func tubesReach(n int) string {
	if n == 1 {
		return "tube reaches"
	}
	return "tubes reach"
}

func (d *picturedJSON) proof() string {
	out := "Fewer will not do, as a thorough search found."
	if d.Capped {
		out += " Others as small do, too."
	}
	return out
}

func (d *picturedJSON) writeTubes(b *strings.Builder, style terminal.Style) {
	terminal.Heading(b, style, "The palette, indicative price "+d.Price.String())
	id := terminal.Widest(d.Tubes, func(t tubelist.Line) string { return t.ID })
	pigments := terminal.Widest(d.Tubes, func(t tubelist.Line) string { return strings.Join(t.Pigments, "+") })
	price := terminal.Widest(d.Tubes, func(t tubelist.Line) string { return t.PriceWords() })
	for _, t := range d.Tubes {
		lead := "  " + terminal.Row(terminal.Pad(t.ID, id), terminal.Pad(strings.Join(t.Pigments, "+"), pigments), terminal.Pad(t.PriceWords(), -price)) + "  "
		b.WriteString(style.WrapAfter(lead, strings.TrimSpace(t.Basis+"  "+strings.Join(t.Mind(), ", "))))
	}
}

func (d *picturedJSON) writeGivenUp(b *strings.Builder, style terminal.Style, heading string, list []givenUpJSON) {
	if len(list) == 0 {
		return
	}
	terminal.Heading(b, style, heading)
	name := terminal.Widest(list, func(g givenUpJSON) string { return g.Name })
	where := terminal.Widest(list, d.where)
	for _, g := range list {
		cell := fmt.Sprintf("  %s%s  %6s  %s  %5v  ", style.Pair(g.Lab, g.Mix), terminal.Pad(g.Name, name), g.Area.Percent(), terminal.Pad(d.where(g), where), g.DE)
		b.WriteString(style.Wrap(cell, len([]rune(terminal.Visible(cell))), g.Fault))
	}
}

func (d *picturedJSON) where(g givenUpJSON) string {
	out := shown.Ninth(float64(g.X), float64(g.Y))
	if len(d.Photographs) > 1 {
		out += " of " + g.Photograph
	}
	return out
}

// writePhotographs says what a count stroke by stroke comes to, and what was drawn.
func (d *picturedJSON) writePhotographs(b *strings.Builder, style terminal.Style) {
	b.WriteByte('\n')
	var each []string
	for _, p := range d.Photographs {
		each = append(each, plain.Clean(p.Name)+" "+p.Within.Percent())
	}
	b.WriteString(style.Wrap("", 0, "Repainted with them and counted again stroke by stroke, within reach: "+strings.Join(each, ", ")+"."))
	for _, p := range d.Photographs {
		if p.Written != "" {
			b.WriteString(style.Wrap("", 0, plain.Clean(p.Written)+" shows what is missed, hatched over grey."))
		}
	}
}

// mostOneOf are the tubes of a need that are named.
const mostOneOf = 8

func (d *picturedJSON) writeNeeds(b *strings.Builder, style terminal.Style, p *pictured) {
	if len(d.Needs)+len(d.NamedNeeds) == 0 {
		return
	}
	terminal.Heading(b, style, "Why fewer will not do: no smaller palette meets all of these and gives up no more than was granted")
	names := tubelist.List(p.problem.Tubes)
	oneOf := func(ids []string) string {
		words := names.Names(ids[:min(len(ids), mostOneOf)])
		if rest := len(ids) - len(words); rest > 0 {
			words = append(words, shown.Counted(rest, "other"))
		}
		return shown.Listed(words, "or")
	}
	for _, n := range d.NamedNeeds {
		b.WriteString(style.Wrap("  ", 4, fmt.Sprintf("%s takes one of %s.", shown.Capital(n.Target), oneOf(n.OneOf))))
	}
	for _, n := range d.Needs {
		b.WriteString(style.Wrap("  ", 4, fmt.Sprintf("%s, with what is like it at least %s of %s, is lost without one of %s.", shown.Capital(n.Name), n.Area.Percent(), d.pictures(), oneOf(n.OneOf))))
	}
}
