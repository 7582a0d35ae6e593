package scene

import (
	"fmt"
	"math"
	"strings"

	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/colour"
)

// Moved is a target whose colour was changed.
type Moved struct {
	Name     string
	From, To colour.Lab
}

// Recoloured is a copy of the scene in which every target has the colour that
// change gives it, to a tenth, and what was moved by it.
func Recoloured(s Scene, change func(i int, c colour.Lab) colour.Lab) (Scene, []Moved) {
	before := s.Targets
	s.Targets = append([]Target(nil), before...)
	var moved []Moved
	for i := range s.Targets {
		t := &s.Targets[i]
		c := change(i, t.Lab)
		if c == t.Lab {
			continue
		}
		t.Lab = colour.Lab{L: tenth(c.L), A: tenth(c.A), B: tenth(c.B)}
		t.Colour = Spell(t.Lab)
		moved = append(moved, Moved{t.Name, before[i].Lab, t.Lab})
	}
	return s, moved
}

// Spell writes a colour as a scene file has it, to a tenth.
func Spell(c colour.Lab) string {
	return fmt.Sprintf("lab(%.1f %.1f %.1f)", tenth(c.L), tenth(c.A), tenth(c.B))
}

// Values are the darkest and the lightest value of the targets, L*.
func (s *Scene) Values() (darkest, lightest float64) {
	darkest, lightest = math.Inf(1), math.Inf(-1)
	for i := range s.Targets {
		l := s.Targets[i].Lab.L
		darkest, lightest = min(darkest, l), max(lightest, l)
	}
	return darkest, lightest
}

// Revalued is a copy of the scene whose values were moved by a curve; hue and
// chroma stay.
func Revalued(s Scene, c values.Curve) (Scene, []Moved) {
	return Recoloured(s, func(_ int, p colour.Lab) colour.Lab {
		// A move too small to be written is none.
		if l := c.At(p.L); math.Abs(l-p.L) >= 0.05 {
			p.L = l
		}
		return p
	})
}

func tenth(v float64) float64 { return math.Round(v*10)/10 + 0 }

// Words say what was moved by as much as it shows: value and chroma, and the hue where
// another word fits it; empty where nothing shows.
func (m Moved) Words() string {
	var what []string
	changed := func(name, was, is string) {
		if was != is {
			what = append(what, name+was+" to "+is)
		}
	}
	changed("value ", fmt.Sprintf("%.1f", m.From.L/10), fmt.Sprintf("%.1f", m.To.L/10))
	changed("chroma ", fmt.Sprintf("%.0f", m.From.LCh().C), fmt.Sprintf("%.0f", m.To.LCh().C))
	if a, b := colour.Name(m.From), colour.Name(m.To); a.Hue != b.Hue {
		changed("", a.String(), b.String())
	}
	return strings.Join(what, ", ")
}
