package solver

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

// Check mixes every target from one palette as it stands, whatever the limits
// but for owned tubes, which cost nothing; every tube counts as allowed. Each
// target missed comes with one tube of the catalogue that would help: of those
// that bring it within reach the one that does so for most of the targets missed,
// of equals the first of Additions; else the one that brings it nearest. The error is a *catalog.UnknownTube
// wrapped by the word palette, an *InputError, or the context's.
func (s *Session) Check(ctx context.Context, palette, own []string) (Palette, []Miss, error) {
	held, err := s.index.find("palette", palette)
	if err != nil {
		return Palette{}, nil, err
	}
	if held.Len() == 0 {
		return Palette{}, nil, &InputError{"palette", "there is no tube in it", "name at least one"}
	}
	r, err := s.index.rules(&Limits{Own: own})
	if err != nil {
		return Palette{}, nil, err
	}
	st, err := s.standing(ctx, held, r)
	if err != nil {
		return Palette{}, nil, err
	}
	mixed := s.palettes(ctx, s.choice.Blank(), []set.Set{held}, 0, r, st.beyond)
	missed := s.misses(ctx, st, r)
	if err := ctx.Err(); err != nil {
		return Palette{}, nil, err
	}
	p := mixed[0]
	if err := errors.Join(p.finite(), finiteMisses(missed)); err != nil {
		return Palette{}, nil, fmt.Errorf("solver: internal: %w", err)
	}
	return p, missed, nil
}

// misses are the targets that a palette misses, each with the tube to add.
func (s *Session) misses(ctx context.Context, st *standing, r *cover.Rules) (out []Miss) {
	tubes, burden := set.Minus(r.Allowed, st.palette).Members(), s.burden(r, st.palette)
	missed := slices.Sorted(slices.Values(slices.Concat(st.missed, st.beyond)))
	far := make([][]float64, len(missed))
	serves := make([]int, len(tubes)) // how many of the missed
	for k, t := range missed {
		far[k] = s.withEach(ctx, t, st.palette, tubes)
		for i, de := range far[k] {
			if de <= st.core.Tolerance[t] {
				serves[i]++
			}
		}
	}
	if ctx.Err() != nil {
		return nil
	}
	for k, t := range missed {
		m := s.missBy(t, s.alone(t, st.palette))
		m.Beyond = slices.Contains(st.beyond, t)
		if len(tubes) > 0 {
			at := nearestOf(far[k])
			for i, de := range far[k] {
				if de <= st.core.Tolerance[t] && cmp.Or(cmp.Compare(serves[i], serves[at]), cmp.Compare(burden[tubes[at]], burden[tubes[i]])) > 0 {
					at = i
				}
			}
			s.help(&m, tubes[at], far[k][at])
		}
		out = append(out, m)
	}
	return out
}

// Volume estimates the gamut of a palette in cubic CIELAB units (see
// gamut.Mixer.Volume). Unknown ids count for nothing.
func (s *Session) Volume(palette []string) float64 {
	held := set.New(len(s.index.tubes))
	for _, id := range palette {
		if i, ok := s.index.place[id]; ok {
			held.Add(i)
		}
	}
	return s.mixer.Volume(held)
}
