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
	w.Line("format = %d", format)
	if f.Instead {
		w.Text("catalogue", "instead")
	}
	for i := range f.Tubes {
		w.tube(&f.Tubes[i])
	}
	for i := range f.Swatches {
		w.swatch(&f.Swatches[i])
	}
	return []byte(w.String())
}

type writer struct{ tomltext.Writer }

// words writes a list of strings unless it was left out.
func (w *writer) words(key string, list []string) {
	if list == nil {
		return
	}
	w.Line("%s = %s", key, tomltext.QuoteList(list))
}

func (w *writer) number(key string, v *float64) {
	if v != nil {
		w.Line("%s = %s", key, number(*v))
	}
}

func (w *writer) tube(t *Tube) {
	w.Line("\n[[tube]]")
	w.Text("id", t.ID)
	w.Text("like", t.Like)
	w.Text("name", t.Name)
	w.words("pigments", t.Pigments)
	w.Text("basis", string(t.Basis))
	w.Text("source", t.Source)
	w.words("hazards", t.Hazards)
	w.Text("caution", t.Caution)
	w.Text("lightfastness", t.Lightfastness)
	w.Text("opacity", t.Opacity)
	w.Text("drying", t.Drying)
	w.number("density", t.Density)
	if t.Price != nil {
		w.Line("price = %d.%02d", *t.Price/100, *t.Price%100)
	}
	w.number("size-ml", t.SizeML)
	w.Line("have = %t", !t.NotOwned)
	if p := t.Film; p != nil {
		w.Line("surface = {k1 = %s, k2 = %s}", number(p.Surface.K1), number(p.Surface.K2))
		w.Line("wavelengths = {start = %d, step = %d}", p.Start, p.Step)
		w.Line("k = %s", tomltext.Array(p.K, number))
		w.Line("s = %s", tomltext.Array(p.S, number))
		if d := p.Doubt; d != nil {
			w.Line("doubt = {strength = %s, scattering = %s, k-shape = %s, s-shape = %s}", number(d.Strength), number(d.Scattering), number(d.KShape), number(d.SShape))
		}
	}
	if p := t.Colours; p != nil {
		w.Text("masstone", p.Masstone)
		w.Text("tint", p.Tint)
		w.Line("tint-parts = %s", number(p.Parts))
	}
	if len(t.Mix) > 0 {
		w.Line("mix = %s", tomltext.Array(t.Mix, part))
	}
}

func (w *writer) swatch(s *Swatch) {
	w.Line("\n[[swatch]]")
	w.Text("recipe", s.Recipe)
	w.Text("seen", s.Seen)
	w.Text("seen-by", s.By)
	w.number("noise", s.Noise)
	w.Text("ground", s.Ground)
}

func part(p Part) string {
	return fmt.Sprintf("{tube = %s, parts = %s}", tomltext.Quote(p.Tube), number(p.Parts))
}

// number is the shortest form that reads back the same, and TOML's for a float.
func number(v float64) string {
	s := strconv.FormatFloat(v, 'g', -1, 64)
	if !strings.ContainsAny(s, ".e") {
		s += ".0"
	}
	return s
}
