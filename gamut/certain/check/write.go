package check

import (
	"bufio"
	"io"
	"strconv"
	"strings"

	"fewtubes/gamut/colour"
)

var limitNames = [...]string{MostR: "r<", LeastR: "r>", MostS: "s<", LeastS: "s>", CutRow: "cut"}

// Write writes the certificate as text; see the package comment.
func (c *Certificate) Write(to io.Writer) error {
	w := &writer{Writer: bufio.NewWriter(to)}
	w.words("certificate", "unreachable", "2")
	w.numbers("surface", c.Surface.K1, c.Surface.K2)
	w.words("light", c.Light)
	w.numbers("target", c.Target.L, c.Target.A, c.Target.B)
	w.numbers("tolerance", c.Tolerance)
	for i := range c.Paints {
		values := append([]float64{c.Norms[i]}, c.Paints[i].K[:]...)
		w.numbers("paint", append(values, c.Paints[i].S[:]...)...)
	}
	for _, f := range c.Faces {
		w.numbers("face", f.Normal[0], f.Normal[1], f.Normal[2], f.Height)
	}
	for i := range c.Steps {
		w.words(c.Steps[i].words()...)
	}
	w.words("end")
	return w.Flush() // bufio keeps the first error
}

type writer struct{ *bufio.Writer }

func (w *writer) words(words ...string) {
	for i, s := range words {
		if i > 0 {
			w.WriteByte(' ')
		}
		w.WriteString(s)
	}
	w.WriteByte('\n')
}

func (w *writer) numbers(key string, values ...float64) {
	words := []string{key}
	for _, x := range values {
		words = append(words, digits(x))
	}
	w.words(words...)
}

// digits are the fewest that name the float64.
func digits(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

func (s *Step) words() []string {
	switch s.Action {
	case MakeCut:
		out := []string{"cut", strconv.Itoa(s.Cut.Face)}
		for b := range colour.Bands {
			out = append(out, s.Cut.Planes[b].word())
		}
		return out
	case Empty:
		return append([]string{"empty"}, termWords(s.Terms)...)
	}
	out := []string{"move", limitNames[s.Limit], strconv.Itoa(s.Band), digits(s.Value)}
	if s.Action == Split {
		out[0] = "split"
	}
	return append(out, termWords(s.Terms)...)
}

func termWords(terms []Term) (out []string) {
	for _, t := range terms {
		out = append(out, limitNames[t.Row]+strconv.Itoa(t.Index)+"*"+digits(t.Times))
	}
	return out
}

func (p Plane) word() string {
	out := "l"
	if p.High {
		out = "h"
	}
	if p.Touch != 0 {
		out += strings.TrimPrefix(digits(p.Touch), "0")
	}
	return out
}
