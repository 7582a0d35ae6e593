package main

import (
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/repaint"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/colour"
)

// repaintedJSON is the document of repaint --json. Shares are parts of a picture,
// 0..1.
type repaintedJSON struct {
	Schema      string               `json:"schema"`
	Tubes       []string             `json:"tubes"`
	Light       string               `json:"light"`
	Tolerance   shown.Hundredths     `json:"tolerance"`
	Photographs []repaintedPhotoJSON `json:"photographs"`
}

type repaintedPhotoJSON struct {
	Name    string               `json:"name"`
	File    string               `json:"file"`
	Written string               `json:"written,omitempty"`
	Values  *values.Curve        `json:"values,omitempty"` // the values were moved by; left out: as seen
	Within  shown.TenThousandths `json:"within"`
	Ceiling shown.TenThousandths `json:"ceiling"` // with all the tubes allowed
	Median  shown.Hundredths     `json:"de_50"`
	Most95  shown.Hundredths     `json:"de_95"`
	Most99  shown.Hundredths     `json:"de_99"`
	Planes  []planeShareJSON     `json:"planes,omitempty"`
	Misses  []missJSON           `json:"misses"` // largest first
}

type planeShareJSON struct {
	Plane  string               `json:"plane"`
	Area   shown.TenThousandths `json:"area"`
	Within shown.TenThousandths `json:"within"`
}

// missJSON is a colour out of reach, with what is like it.
type missJSON struct {
	Name  string               `json:"name"`
	Lab   shown.Lab            `json:"lab"`
	Mix   shown.Lab            `json:"mix"`
	DE    shown.Hundredths     `json:"de"`
	Fault string               `json:"fault"`
	Area  shown.TenThousandths `json:"area"`
	X     shown.TenThousandths `json:"x"`
	Y     shown.TenThousandths `json:"y"`
}

func newRepaintedPhoto(p *scene.Photo, curve *values.Curve, out string, m *repaint.Measures) repaintedPhotoJSON {
	d := repaintedPhotoJSON{
		Name: p.Name, File: p.File, Written: out, Values: curve, Within: shown.TenThousandths(m.Within), Ceiling: shown.TenThousandths(m.Ceiling),
		Median: shown.Hundredths(m.DE[0]), Most95: shown.Hundredths(m.DE[1]), Most99: shown.Hundredths(m.DE[2]), Misses: []missJSON{},
	}
	for _, s := range m.Planes {
		d.Planes = append(d.Planes, planeShareJSON{s.Plane, shown.TenThousandths(s.Area), shown.TenThousandths(s.Within)})
	}
	for _, miss := range m.Misses {
		lab, mix := shown.LabOf(miss.Lab), shown.LabOf(miss.Mix)
		off := colour.Direction(mix.Colour(), lab.Colour())
		d.Misses = append(d.Misses, missJSON{
			Name: colour.Name(lab.Colour()).String(), Lab: lab, Mix: mix, DE: shown.Hundredths(off.DE).Rounded(), Fault: off.String(),
			Area: shown.TenThousandths(miss.Area), X: shown.TenThousandths(miss.X), Y: shown.TenThousandths(miss.Y),
		})
	}
	return d
}

func (d *repaintedJSON) fill(r *repainter) {
	d.Schema, d.Tubes, d.Light, d.Tolerance = "fewtubes/repaint/1", idsOf(r.palette), r.scene.Light, shown.Hundredths(r.scene.Tolerance)
}

func (d *repaintedJSON) text(r *repainter, style terminal.Style) string {
	var b strings.Builder
	tubes := tubelist.List(r.palette)
	fmt.Fprintf(&b, "%s", style.Paragraph(fmt.Sprintf("Repainted with %s: %s; tolerance ΔE00 %v; light %s.",
		shown.Counted(len(d.Tubes), "tube"), shown.InARow(tubes.Names(d.Tubes)), d.Tolerance, d.Light)))
	for i := range d.Photographs {
		b.WriteByte('\n')
		b.WriteString(d.Photographs[i].text(r, style))
	}
	style.Close(&b, tubes.Cautions(d.Tubes))
	return b.String()
}

func (p *repaintedPhotoJSON) text(r *repainter, style terminal.Style) string {
	var b strings.Builder
	line := func(format string, args ...any) { b.WriteString(style.Paragraph(fmt.Sprintf(format, args...))) }
	besides := "; no other tubes are allowed."
	if r.allowed != nil {
		besides = fmt.Sprintf("; with all the allowed tubes it would be %s.", p.Ceiling.Percent())
	}
	line("%s: %s of it lies within reach%s", plain.Clean(p.File), p.Within.Percent(), besides)
	line("Half of it is painted within ΔE00 %v, 95 %% within %v, 99 %% within %v.", p.Median, p.Most95, p.Most99)
	if len(p.Planes) > 0 {
		var words []string
		for _, s := range p.Planes {
			words = append(words, fmt.Sprintf("%s %s", s.Plane, s.Within.Percent()))
		}
		line("Within reach by plane: %s.", strings.Join(words, ", "))
	}
	if len(p.Misses) > 0 {
		b.WriteString("What misses most, part of the picture, where, ΔE00\n")
		name := terminal.Widest(p.Misses, func(m missJSON) string { return m.Name })
		for _, m := range p.Misses {
			cell := fmt.Sprintf("  %s%s  %6s  %s  %5v  ", style.Pair(m.Lab, m.Mix), terminal.Pad(m.Name, name), m.Area.Percent(), terminal.Pad(shown.Ninth(float64(m.X), float64(m.Y)), 12), m.DE)
			b.WriteString(style.Wrap(cell, len([]rune(terminal.Visible(cell))), m.Fault))
		}
	}
	b.WriteString(style.Paragraph(strings.TrimSuffix(repaintedValues(p), "\n")))
	if p.Written != "" {
		line("%s holds %s.", plain.Clean(p.Written), r.drawn())
	}
	return b.String()
}

// repaintedValues says what was done to the values.
func repaintedValues(p *repaintedPhotoJSON) string {
	if p.Values == nil {
		return "Its values are as in the photograph."
	}
	c := p.Values
	return fmt.Sprintf("Its values %.1f to %.1f were moved to %.1f to %.1f, what paint shows; %.1f became %.1f (--as-seen leaves them).",
		c.From[0]/10, c.From[2]/10, c.To[0]/10, c.To[2]/10, c.From[1]/10, c.To[1]/10)
}

// drawn says what a picture shows.
func (r *repainter) drawn() string {
	switch r.picture {
	case "beside":
		return "the photograph and, on its right, the repainting"
	case "misses":
		return "what stays out of reach, hatched over grey"
	case "levels":
		return fmt.Sprintf("photograph and repainting in %d flat values", r.levels)
	}
	return "the repainting"
}
