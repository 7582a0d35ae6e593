package solver

import (
	"context"
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/set"
)

// Comparison sets palettes that answer the same targets side by side.
type Comparison struct {
	Palettes  []Compared // their worst and mean difference over the same targets:
	Reachable int        // so many that all tubes of the catalogue together reach
	Differ    []string   // targets that the palettes do not serve alike, in order
}

// Compared is what one palette of a comparison comes to.
type Compared struct {
	Name          string
	Palette       Palette
	Reached       int      // targets
	AreaReached   float64  // fraction of the scene's area, 0..1; of the targets if no area is given
	Hazards       []string // classes, each once, sorted
	GreensWorstDE float64  // over targets that a painter would call green; 0 if there is none
	Volume        float64  // of the gamut, cubic CIELAB units
	Holds         int      // plausible boxes, of UsualDraws, in which it reaches what it reaches as it stands
}

// Named is a palette and what it goes by.
type Named struct {
	Name    string
	Palette Palette // as Choose or Check give it
}

// tellsApart is the gap in CIEDE2000 from which two palettes serve a target
// differently although both reach it (common practice, no source).
const tellsApart = 1.0

// Compare sets palettes of this session side by side, or gives up with the
// context's error. Other errors are *InputError: there is no palette, or one is
// not of this session.
func (s *Session) Compare(ctx context.Context, named []Named) (*Comparison, error) {
	if len(named) == 0 {
		return nil, &InputError{"comparison", "there is no palette in it", "name at least one"}
	}
	beyond, err := s.beyond(ctx)
	if err != nil {
		return nil, err
	}
	out := &Comparison{Reachable: len(s.problem.Targets) - len(beyond), Differ: []string{}}
	for _, n := range named {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		c, err := s.compared(n)
		if err != nil {
			return nil, err
		}
		c.Palette.measure(beyond)
		out.Palettes = append(out.Palettes, c)
	}
	palettes := make([]Palette, len(named))
	for i := range named {
		palettes[i] = named[i].Palette
	}
	holds, err := s.Share(ctx, palettes, UsualDraws)
	if err != nil {
		return nil, err
	}
	for i := range out.Palettes {
		out.Palettes[i].Holds = holds[i]
	}
	for t := range s.problem.Targets {
		least, most, reached := math.Inf(1), 0.0, 0
		for _, n := range named {
			o := &n.Palette.Targets[t]
			least, most = min(least, o.DE), max(most, o.DE)
			if o.Reached {
				reached++
			}
		}
		if reached%len(named) != 0 || most-least >= tellsApart {
			out.Differ = append(out.Differ, s.problem.Targets[t].Name)
		}
	}
	return out, nil
}

// beyond are the targets out of reach of all tubes of the catalogue together.
func (s *Session) beyond(ctx context.Context) ([]int, error) {
	_, beyond, err := s.choice.Blank().Reachable(ctx, set.Full(len(s.index.tubes)))
	return beyond, err
}

func (s *Session) compared(n Named) (Compared, error) {
	set, err := s.index.find(n.Name, n.Palette.Tubes)
	if err != nil {
		return Compared{}, err
	}
	if len(n.Palette.Targets) != len(s.problem.Targets) {
		return Compared{}, &InputError{n.Name, "its mixes are not those of this scene", "compare what Choose or Check gave"}
	}
	c := Compared{Name: n.Name, Palette: n.Palette, Hazards: s.hazards(set), Volume: s.mixer.Volume(set)}
	area, whole := 0.0, 0.0
	for t, o := range n.Palette.Targets {
		whole += s.problem.Targets[t].Area
		if o.Reached {
			c.Reached++
			area += s.problem.Targets[t].Area
		}
		if isGreen(o.Lab) {
			c.GreensWorstDE = max(c.GreensWorstDE, o.DE)
		}
	}
	if c.AreaReached = area / whole; whole == 0 {
		c.AreaReached = float64(c.Reached) / float64(len(n.Palette.Targets))
	}
	return c, nil
}

// isGreen takes the greens of a landscape by the plain names of colours: from
// olive through yellow-green to blue-green (CIELAB hues 103 to 218 degrees, and
// from 88 in the dark), greys apart.
func isGreen(c colour.Lab) bool {
	w := colour.Name(c)
	return w.Hue.IsGreen() || w.Plain == colour.Olive
}

func (s *Session) hazards(held set.Set) []string {
	out := []string{}
	for _, i := range held.Members() {
		out = append(out, s.index.tubes[i].Hazards...)
	}
	return distinct(out)
}
