package scene

import (
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
		w.Line("\n[limits]\n%s", strings.TrimSuffix(limits, "\n"))
	}
	if s.Air != nil {
		w.Line("\n[air]\n%s", strings.TrimSuffix(airLines(s.Air), "\n"))
	}
	for i := range s.Photos {
		w.Line("\n[[photo]]")
		w.photo(&s.Photos[i])
	}
	for i := range s.Targets {
		w.Line("\n[[target]]")
		w.target(&s.Targets[i])
	}
	return []byte(w.String())
}

type writer struct{ tomltext.Writer }

func (w *writer) list(key string, ids []string) {
	if len(ids) > 0 {
		w.Line("%s = %s", key, tomltext.QuoteList(ids))
	}
}

func (w *writer) count(key string, n int) {
	if n != 0 {
		w.Line("%s = %d", key, n)
	}
}

func (w *writer) head(s *Scene) {
	w.Line("format = %d", format)
	w.Text("title", s.Title)
	w.Line("tolerance = %s", number(s.Tolerance))
	w.Text("light", s.Light)
	w.Text("surface", string(s.Surface))
	w.list("palette", s.Palette)
}

func limitLines(l *Limits) string {
	var body writer
	body.count("max-tubes", l.MaxTubes)
	if l.Budget != nil {
		body.Line("budget = %s", number(*l.Budget))
	}
	body.list("avoid", l.Avoid)
	body.list("keep", l.Keep)
	body.list("never", l.Never)
	body.list("only", l.Only)
	body.list("own", l.Own)
	if len(l.AtMostOne) > 0 {
		body.Line("at-most-one = %s", tomltext.Array(l.AtMostOne, tomltext.QuoteList))
	}
	body.count("paints-per-mix", l.PaintsPerMix)
	if l.ByHand {
		body.Line("by-hand = true")
	}
	body.Text("prefer", string(l.Prefer))
	return body.String()
}

func airLines(a *Air) string {
	var body writer
	if a == nil {
		return ""
	}
	body.Text("range", a.Range)
	body.Text("airlight", a.Airlight)
	if a.Exponent != nil {
		body.Line("exponent = %s", number(*a.Exponent))
	}
	body.Text("hue", string(a.Hue))
	if d := distances(&a.Planes); d != "" {
		body.Line("planes = {%s}", d)
	}
	return body.String()
}

// distances are the entries of an inline table, empty where nothing is said.
func distances(d *Distances) string {
	var entries []string
	for _, plane := range []struct{ name, text string }{{"foreground", d.Foreground}, {"middle", d.Middle}, {"distance", d.Distance}} {
		if plane.text != "" {
			entries = append(entries, plane.name+" = "+tomltext.Quote(plane.text))
		}
	}
	return strings.Join(entries, ", ")
}

func (w *writer) photo(p *Photo) {
	w.Text("name", p.Name)
	w.Text("file", p.File)
	w.count("targets", p.Targets)
	if len(p.Planes) > 0 {
		bands := make([]string, len(p.Planes))
		for i, b := range p.Planes {
			bands[i] = b.String()
		}
		w.list("planes", bands)
	}
	if d := distances(&p.Distances); d != "" {
		w.Line("distances = {%s}", d)
	}
	if len(p.Crop) > 0 {
		w.Line("crop = %s", tomltext.Array(p.Crop, number))
	}
	if c := p.Values; c != nil {
		w.Line("values = {from = %s, to = %s}", tomltext.Array(c.From[:], number), tomltext.Array(c.To[:], number))
	}
}

func (w *writer) target(t *Target) {
	w.Text("name", t.Name)
	w.Text("colour", t.Colour)
	w.Text("plane", t.Plane)
	w.Line("area = %s", number(t.Area))
	if t.Tolerance != 0 {
		w.Line("tolerance = %s", number(t.Tolerance))
	}
	w.Text("seen", t.Seen)
	if at := t.At; at != nil {
		w.Line("at = {photo = %s, x = %s, y = %s, radius = %s}", tomltext.Quote(at.Photo), number(at.X), number(at.Y), number(at.Radius))
	}
}

// number is the shortest form that reads back the same.
func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
