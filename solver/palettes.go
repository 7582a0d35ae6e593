package solver

import (
	"context"
	"math"
	"slices"

	"fewtubes/gamut"
)

// palettes mixes every target from every palette. Targets beyond every allowed
// tube count for the worst and mean difference only when all of them are. When
// the context ends what is not mixed by then is left out.
func (s *Session) palettes(ctx context.Context, sets []gamut.Set, r *rules, unreachable []int) []Palette {
	targets := s.problem.Targets
	mixed := make([][]Outcome, len(sets))
	for i := range sets {
		mixed[i] = make([]Outcome, len(targets))
	}
	each(len(targets), func(t int) {
		if ctx.Err() != nil {
			return
		}
		for i, set := range sets {
			mixed[i][t] = s.outcome(t, set)
		}
	})
	out := make([]Palette, len(sets))
	for i, set := range sets {
		out[i] = Palette{Tubes: s.box.ids(set), Targets: mixed[i]}
		for _, tube := range set.Members() {
			out[i].Price += r.prices[tube]
		}
		out[i].measure(unreachable)
	}
	return out
}

// measure works out the worst and mean difference.
func (p *Palette) measure(unreachable []int) {
	sum, n := 0.0, 0
	for t := range p.Targets {
		if slices.Contains(unreachable, t) && len(unreachable) < len(p.Targets) {
			continue
		}
		p.WorstDE = max(p.WorstDE, p.Targets[t].DE)
		sum, n = sum+p.Targets[t].DE, n+1
	}
	p.MeanDE = sum / float64(max(n, 1))
}

// outcome is the nearest mix of a palette to a target, and its recipe.
func (s *Session) outcome(t int, palette gamut.Set) Outcome {
	target := &s.problem.Targets[t]
	mix := s.core.known[t].nearest(palette, search)
	out := Outcome{Target: target.Name, Lab: target.Lab, Mix: mix.Lab, DE: mix.DE, Reached: mix.DE <= target.Tolerance}
	if math.IsInf(mix.DE, 1) {
		return out
	}
	for i, p := range mix.Paints {
		out.Shares = append(out.Shares, Share{s.box.tubes[p].ID, mix.Shares[i]})
	}
	recipe := s.recipe(t, mix)
	for i, p := range recipe.Paints {
		out.Parts = append(out.Parts, Part{s.box.tubes[p].ID, recipe.Parts[i]})
	}
	out.PartsDE = recipe.DE
	return out
}

// recipe divides a mix into parts; palettes that share paints share the work.
func (s *Session) recipe(t int, mix gamut.Mix) gamut.Recipe {
	if s.recipes[t] == nil {
		s.recipes[t] = s.mixing.mixer.RecipeBook(s.problem.Targets[t].Lab, s.problem.MaxPartsTotal)
	}
	return s.recipes[t].Recipe(mix)
}
