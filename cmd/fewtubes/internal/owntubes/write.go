package owntubes

import (
	"fmt"
	"strconv"
	"strings"

	"fewtubes/cmd/fewtubes/internal/tomltext"
)

// Format is the text of the file in one fixed form: Parse reads the same tubes
// back, and the same tubes always give the same bytes.
func Format(f *File) []byte {
	var w writer
	w.line("format = %d", format)
	if f.Instead {
		w.text("catalogue", "instead")
	}
	for i := range f.Tubes {
		w.tube(&f.Tubes[i])
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

// words writes a list of strings unless it was left out.
func (w *writer) words(key string, list []string) {
	if list == nil {
		return
	}
	w.line("%s = %s", key, tomltext.QuoteList(list))
}

func (w *writer) number(key string, v *float64) {
	if v != nil {
		w.line("%s = %s", key, number(*v))
	}
}

func (w *writer) tube(t *Tube) {
	w.line("\n[[tube]]")
	w.text("id", t.ID)
	w.text("like", t.Like)
	w.text("name", t.Name)
	w.words("pigments", t.Pigments)
	w.text("basis", string(t.Basis))
	w.text("source", t.Source)
	w.words("hazards", t.Hazards)
	w.text("caution", t.Caution)
	w.text("lightfastness", t.Lightfastness)
	w.text("opacity", t.Opacity)
	w.text("drying", t.Drying)
	w.number("density", t.Density)
	if t.Price != nil {
		w.line("price = %d.%02d", *t.Price/100, *t.Price%100)
	}
	w.number("size-ml", t.SizeML)
	w.line("have = %t", !t.NotOwned)
	if p := t.Film; p != nil {
		w.line("surface = {k1 = %s, k2 = %s}", number(p.Surface.K1), number(p.Surface.K2))
		w.line("wavelengths = {start = %d, step = %d}", p.Start, p.Step)
		w.line("k = %s", numbers(p.K))
		w.line("s = %s", numbers(p.S))
	}
	if p := t.Colours; p != nil {
		w.text("masstone", p.Masstone)
		w.text("tint", p.Tint)
		w.line("tint-parts = %s", number(p.Parts))
	}
	if len(t.Mix) > 0 {
		parts := make([]string, len(t.Mix))
		for i, p := range t.Mix {
			parts[i] = fmt.Sprintf("{tube = %s, parts = %s}", tomltext.Quote(p.Tube), number(p.Parts))
		}
		w.line("mix = [%s]", strings.Join(parts, ", "))
	}
}

func numbers(v []float64) string {
	out := make([]string, len(v))
	for i, x := range v {
		out[i] = number(x)
	}
	return "[" + strings.Join(out, ", ") + "]"
}

// number is the shortest form that reads back the same, and TOML's for a float.
func number(v float64) string {
	s := strconv.FormatFloat(v, 'g', -1, 64)
	if !strings.ContainsAny(s, ".e") {
		s += ".0"
	}
	return s
}
