package scene

import (
	"fmt"
	"math"

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
