package solver

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/lessons"
)

// Check mixes every target from one palette as it stands, whatever the limits
// but for owned tubes, which cost nothing; every tube counts as allowed. Each
// target missed comes with one tube of the catalogue that would help: of those
// that bring it within reach the one that does so for most of the targets missed,
// of equals the first of Additions; else the one that brings it nearest. The error
// is a *catalog.UnknownTube wrapped by the word palette, an *InputError, or the
// context's.
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
	allowed, err := s.toAsk(ctx, held, r.Allowed)
	if err != nil {
		return Palette{}, nil, err
	}
	st, err := lessons.Stand(ctx, s.stakes(), held, allowed)
	if err != nil {
		return Palette{}, nil, err
	}
	mixed := s.palettes(ctx, s.choice.Blank(), []set.Set{held}, 0, r, st.Beyond)
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
func (s *Session) misses(ctx context.Context, st *lessons.Standing, r *cover.Rules) (out []Miss) {
	missed := slices.Sorted(slices.Values(slices.Concat(st.Missed, st.Beyond)))
	best := make([]float64, len(missed))
	for k, t := range missed {
		mix := s.alone(t, st.Palette)
		best[k] = mix.DE
		m := s.missBy(t, mix)
		m.Beyond = slices.Contains(st.Beyond, t)
		out = append(out, m)
	}
	for k, h := range st.Helpers(ctx, r, missed, best) {
		s.help(&out[k], h)
	}
	return out
}

// miss says how the nearest mix of a palette misses a target, and which one tube
// of the helpers, added to the palette, would bring the target nearest; not that
// when the context ends.
func (s *Session) miss(ctx context.Context, t int, mix gamut.Mix, palette, helpers set.Set) Miss {
	m := s.missBy(t, mix)
	s.help(&m, lessons.Help(ctx, s.stakes(), t, mix.DE, palette, helpers.Members()))
	return m
}

// missBy says how a mix misses a target.
func (s *Session) missBy(t int, mix gamut.Mix) Miss {
	target := &s.problem.Targets[t]
	m := Miss{Target: target.Name, BestDE: mix.DE}
	if !math.IsInf(mix.DE, 1) {
		m.Words = colour.Direction(mix.Lab, target.Lab).String()
	}
	return m
}

// help names a tube that helps a miss.
func (s *Session) help(m *Miss, h lessons.Helper) {
	if h.Tube >= 0 {
		m.Helper, m.HelpDE = s.index.id(h.Tube), h.DE
	}
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
