package solver

import (
	"context"

	"fewtubes/gamut/colour"
	"fewtubes/solver/internal/reach"
)

// Nearest is how near tubes come to a colour.
type Nearest struct {
	Lab colour.Lab // of the mix
	DE  float64
}

// Nearest tells how near the tubes of a palette come to many colours, against the white
// of the problem's light, mixed freely by quick searches; where they come within the
// tolerance, some mix that does. The error is as of Check.
func (s *Session) Nearest(ctx context.Context, palette []string, colours []colour.Lab, tolerance float64) ([]Nearest, error) {
	held, err := s.index.find("palette", palette)
	if err != nil {
		return nil, err
	}
	if held.Len() == 0 {
		return nil, &InputError{"palette", "there is no tube in it", "name at least one"}
	}
	mixes, err := reach.NewMany(s.mixer, colours, tolerance).Near(ctx, held)
	if err != nil {
		return nil, err
	}
	out := make([]Nearest, len(mixes))
	for i := range mixes {
		out[i] = Nearest{mixes[i].Lab, mixes[i].DE}
	}
	return out, nil
}
