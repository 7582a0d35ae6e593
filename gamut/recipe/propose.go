package recipe

import (
	"context"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
)

// Bounds of what is proposed as a base.
const (
	mostInBase  = 3  // paints
	partsOfBase = 6  // together
	firstBases  = 20 // are tried as the first of several
)

// Propose finds up to so many bases that leave least to handle: handled are the
// tubes and piles that each target takes by itself, a base costs its paints once, and what is
// made of it a base and at most one addition within two thirds of the tolerance. Every mix of two and
// three tubes of the palette in up to six parts is tried; of several bases the first is one of the
// twenty that save most, the others are taken one by one. None are proposed where none save anything.
func Propose(ctx context.Context, m *gamut.Mixer, targets []Target, handled []int, palette set.Set, limits Limits) ([]Base, error) {
	var bases []Base
	for n := 2; n <= mostInBase; n++ {
		subsets(indices(palette), n, func(tubes []int16) {
			for _, d := range divisions(n, partsOfBase) {
				if d.touches > 0 {
					continue
				}
				var b Base
				for i, t := range tubes {
					b.Paints, b.Parts = append(b.Paints, int(t)), append(b.Parts, int(d.quarters[i])/inPart)
				}
				bases = append(bases, b)
			}
		})
	}
	goals := make([]goal, len(targets))
	for t := range targets {
		easy := Target{targets[t].Lab, targets[t].Tolerance * easily}
		goals[t] = newGoal(t, &easy)
		goals[t].stray = targets[t].Tolerance + mayStray
	}
	saved := make([][]int, len(bases))
	parallel.EachOf(len(bases), func() func(int) {
		v := newVarier(m, limits)
		return func(b int) {
			keep := make([]variations, len(targets))
			for added := 0; added <= min(1, m.PaintsPerMix()-1); added++ {
				subsets(indices(palette), added, func(tubes []int16) {
					if ctx.Err() == nil {
						v.vary(b, &bases[b], tubes, goals, keep)
					}
				})
			}
			saved[b] = make([]int, len(targets))
			for t := range keep {
				for added, row := range keep[t] {
					if len(row) > 0 {
						saved[b][t] = max(0, handled[t]-1-added)
						break
					}
				}
			}
		}
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	s := savings{bases, saved}
	return s.best(len(targets), min(limits.Bases, MostBases)), nil
}

// savings is what each base saves for each target.
type savings struct {
	bases []Base
	saved [][]int
}

// with is what one more base adds to what is saved already, less its making.
func (s *savings) with(base int, already []int) int {
	more := -len(s.bases[base].Paints)
	for t, n := range s.saved[base] {
		more += max(0, n-already[t])
	}
	return more
}

func (s *savings) best(targets, most int) (out []Base) {
	order := make([]int, len(s.bases))
	alone := make([]int, len(s.bases))
	for b := range order {
		order[b], alone[b] = b, s.with(b, make([]int, targets))
	}
	slices.SortStableFunc(order, func(a, b int) int { return alone[b] - alone[a] })
	least := 0
	for _, first := range order[:min(firstBases, len(order))] {
		already := make([]int, targets)
		var chosen []Base
		total := 0
		for next := first; len(chosen) < most; {
			more := s.with(next, already)
			if more <= 0 {
				break
			}
			total += more
			chosen = append(chosen, s.bases[next])
			for t, n := range s.saved[next] {
				already[t] = max(already[t], n)
			}
			for _, b := range order {
				if s.with(b, already) > s.with(next, already) {
					next = b
				}
			}
		}
		if total > least {
			out, least = chosen, total
		}
	}
	return out
}
