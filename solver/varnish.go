package solver

import (
	"context"
	"runtime"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
)

// Varnished is a target out of reach for the glare of the surface alone.
type Varnished struct {
	Target  string
	DE      float64 // of the nearest mix seen without glare, within the tolerance
	Palette bool    // the palette comes that near; else all allowed tubes together
}

// Varnished asks which of the targets that a palette misses are reached where no
// glare is seen: by the palette, or, where all the tubes that the limits allow
// miss them with glare, by all of these.
func (s *Session) Varnished(ctx context.Context, limits Limits, palette []string, missed []Miss) (out []Varnished, err error) {
	if s.problem.Surface.View() == film.NoGlare || len(missed) == 0 {
		return nil, nil
	}
	r, err := s.index.rules(&limits)
	if err != nil {
		return nil, err
	}
	own, err := s.index.find("palette", palette)
	if err != nil {
		return nil, err
	}
	var near [2]*gamut.Mixer // of the palette and of all allowed tubes, when asked
	for _, m := range missed {
		target := &s.problem.Targets[s.targetIndex(m.Target)]
		for i, tubes := range []set.Set{own, r.Allowed} {
			if i == 1 && !m.Beyond {
				break
			}
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			if near[i] == nil {
				opt := gamut.Options{Surface: s.problem.Surface.Viewed(film.NoGlare), Light: s.problem.Light, PaintsPerMix: s.problem.PaintsPerMix}
				if near[i], err = gamut.NewMixer(s.paints(tubes), opt); err != nil {
					return nil, err
				}
			}
			runtime.Gosched()
			mix := near[i].Closest(target.Lab, set.Full(near[i].Len()), gamut.Search)
			if de := colour.DE2000(near[i].Evaluate(mix.Paints, mix.Shares), target.Lab); de <= target.Tolerance {
				out = append(out, Varnished{target.Name, de, i == 0})
				break
			}
		}
	}
	return out, nil
}
