package solver

import (
	"context"
	"errors"
	"fmt"

	"fewtubes/gamut"
)

// Check mixes every target from one palette as it stands, whatever the limits
// but for owned tubes, which cost nothing. Each target missed comes with the one
// tube of the catalogue that would bring it nearest. The worst and mean
// difference are over every target. The error is a *catalog.UnknownTube wrapped
// by the word palette, an *InputError, or the context's.
func (s *Session) Check(ctx context.Context, palette, own []string) (Palette, []Miss, error) {
	set, err := s.box.find("palette", palette)
	if err != nil {
		return Palette{}, nil, err
	}
	if set.Len() == 0 {
		return Palette{}, nil, &InputError{"palette", "there is no tube in it", "name at least one"}
	}
	r, err := s.box.rules(&Limits{Own: own})
	if err != nil {
		return Palette{}, nil, err
	}
	mixed := s.palettes(ctx, s.blank(), []gamut.Set{set}, 0, r, nil)
	if err := ctx.Err(); err != nil {
		return Palette{}, nil, err
	}
	p := mixed[0]
	others := minus(gamut.FullSet(len(s.box.tubes)), set)
	var missed []Miss
	for t := range p.Targets {
		if ctx.Err() != nil {
			break
		}
		if !p.Targets[t].Reached {
			missed = append(missed, s.miss(ctx, t, s.nearest(t, set), set, others))
		}
	}
	if err := ctx.Err(); err != nil {
		return Palette{}, nil, err
	}
	if err := errors.Join(p.finite(), finiteMisses(missed)); err != nil {
		return Palette{}, nil, fmt.Errorf("solver: internal: %w", err)
	}
	return p, missed, nil
}

// Volume estimates the gamut of a palette in cubic CIELAB units (see
// gamut.Mixer.Volume). Unknown ids count for nothing.
func (s *Session) Volume(palette []string) float64 {
	set := gamut.NewSet(len(s.box.tubes))
	for _, id := range palette {
		if i, ok := s.box.index[id]; ok {
			set.Add(i)
		}
	}
	return s.mixing.mixer.Volume(set)
}
