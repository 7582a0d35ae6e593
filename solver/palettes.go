package solver

import (
	"context"
	"math"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/parallel"
)

// palettes mixes every target from every palette. When
// the context ends, palettes not mixed by then are left out, but for the first
// so many.
func (s *Session) palettes(ctx context.Context, c *choice.Core, sets []set.Set, always int, r *cover.Rules, unreachable []int) []Palette {
	targets := s.problem.Targets
	mixed := make([][]Outcome, len(sets))
	for i := range sets {
		mixed[i] = make([]Outcome, len(targets))
	}
	done := make([]int, len(targets))
	parallel.Each(len(targets), func(t int) {
		for i, held := range sets {
			if i >= always && ctx.Err() != nil {
				break
			}
			mixed[i][t] = s.outcome(c, t, held)
			done[t]++
		}
	})
	sets = sets[:slices.Min(done)]
	out := make([]Palette, len(sets))
	for i, held := range sets {
		out[i] = Palette{Tubes: s.index.ids(held), Targets: mixed[i]}
		for _, tube := range held.Members() {
			out[i].Price += r.Weights[tube]
		}
		out[i].measure(unreachable)
	}
	return out
}

// measure works out the worst and mean differences.
func (p *Palette) measure(unreachable []int) {
	p.WorstDE, p.WorstOfAllDE = 0, 0
	for t := range p.Targets {
		p.WorstOfAllDE = max(p.WorstOfAllDE, p.Targets[t].DE)
	}
	sum, targets := 0.0, judged(len(p.Targets), unreachable)
	for _, t := range targets {
		p.WorstDE = max(p.WorstDE, p.Targets[t].DE)
		sum += p.Targets[t].DE
	}
	p.MeanDE = sum / float64(max(len(targets), 1))
}

// outcome is the nearest mix of a palette to a target, and its recipe.
func (s *Session) outcome(c *choice.Core, t int, palette set.Set) Outcome {
	target := &s.problem.Targets[t]
	mix := c.Shown(t, palette)
	out := Outcome{Target: target.Name, Lab: target.Lab, Mix: mix.Lab, DE: mix.DE, Reached: mix.DE <= target.Tolerance}
	if math.IsInf(mix.DE, 1) {
		return out
	}
	for i, p := range mix.Paints {
		out.Shares = append(out.Shares, Share{s.index.tubes[p].ID, mix.Shares[i]})
	}
	recipe := s.recipe(t, mix)
	for i, p := range recipe.Paints {
		out.Parts = append(out.Parts, Part{s.index.tubes[p].ID, recipe.Parts[i]})
	}
	out.PartsDE = recipe.DE
	return out
}

// recipe divides a mix into parts; palettes that share paints share the work.
func (s *Session) recipe(t int, mix gamut.Mix) gamut.Recipe {
	if s.recipes[t] == nil {
		s.recipes[t] = s.mixer.RecipeBook(s.problem.Targets[t].Lab, s.problem.MaxPartsTotal)
	}
	return s.recipes[t].Recipe(mix)
}
