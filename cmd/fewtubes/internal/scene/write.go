package scene

import (
	"fmt"
	"strconv"
	"strings"

	"fewtubes/cmd/fewtubes/internal/tomltext"
)

// Format is the scene as a file, in one fixed form: Parse reads the same scene
// back, and the same scene always gives the same bytes.
func Format(s Scene) []byte {
	var w writer
	w.head(&s)
	if limits := limitLines(&s.Limits); limits != "" {
		w.line("\n[limits]\n%s", strings.TrimSuffix(limits, "\n"))
	}
	for i := range s.Photos {
		w.line("\n[[photo]]")
		w.photo(&s.Photos[i])
	}
	for i := range s.Targets {
		w.line("\n[[target]]")
		w.target(&s.Targets[i])
	}
	return []byte(w.String())
}

type writer struct{ strings.Builder }

func (w *writer) line(form string, args ...any) {
	fmt.Fprintf(w, form, args...)
	w.WriteByte('\n')
}

// text writes a string key unless it is empty.
func (w *writer) text(key, value string) {
	if value != "" {
		w.line("%s = %s", key, tomltext.Quote(value))
	}
}

func (w *writer) list(key string, ids []string) {
	if len(ids) > 0 {
		w.line("%s = %s", key, tomltext.QuoteList(ids))
	}
}

func (w *writer) count(key string, n int) {
	if n != 0 {
		w.line("%s = %d", key, n)
	}
}

func (w *writer) head(s *Scene) {
	w.line("format = %d", format)
	w.text("title", s.Title)
	w.line("tolerance = %s", number(s.Tolerance))
	w.text("light", s.Light)
}

func limitLines(l *Limits) string {
	var body writer
	body.count("max-tubes", l.MaxTubes)
	if l.Budget != nil {
		body.line("budget = %s", number(*l.Budget))
	}
	body.list("avoid", l.Avoid)
	body.list("keep", l.Keep)
	body.list("never", l.Never)
	body.list("only", l.Only)
	body.list("own", l.Own)
	if len(l.AtMostOne) > 0 {
		groups := make([]string, len(l.AtMostOne))
		for i, g := range l.AtMostOne {
			groups[i] = tomltext.QuoteList(g)
		}
		body.line("at-most-one = [%s]", strings.Join(groups, ", "))
	}
	body.count("paints-per-mix", l.PaintsPerMix)
	body.text("prefer", string(l.Prefer))
	return body.String()
}

func (w *writer) photo(p *Photo) {
	w.text("name", p.Name)
	w.text("file", p.File)
	w.count("targets", p.Targets)
	if len(p.Planes) > 0 {
		bands := make([]string, len(p.Planes))
		for i, b := range p.Planes {
			bands[i] = b.String()
		}
		w.list("planes", bands)
	}
	if c := p.Values; c != nil {
		w.line("values = {from = %s, to = %s}", numbers(c.From[:]), numbers(c.To[:]))
	}
}

func (w *writer) target(t *Target) {
	w.text("name", t.Name)
	w.text("colour", t.Colour)
	w.text("plane", t.Plane)
	w.line("area = %s", number(t.Area))
	if t.Tolerance != 0 {
		w.line("tolerance = %s", number(t.Tolerance))
	}
	if at := t.At; at != nil {
		w.line("at = {photo = %s, x = %s, y = %s, radius = %s}", tomltext.Quote(at.Photo), number(at.X), number(at.Y), number(at.Radius))
	}
}

func numbers(v []float64) string {
	out := make([]string, len(v))
	for i, x := range v {
		out[i] = number(x)
	}
	return "[" + strings.Join(out, ", ") + "]"
}

// number is the shortest form that reads back the same.
func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
