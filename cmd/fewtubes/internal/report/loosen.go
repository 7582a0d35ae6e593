package report

import (
	"context"
	"fmt"
	"math"
	"slices"

	"fewtubes/solver"
)

// Loosening is a limit loosened, and what that brings.
type Loosening struct {
	Words  string         `json:"words"`  // "One tube more reaches 8 more"
	Act    string         `json:"act"`    // the limit as it will be, in words
	Limits map[string]any `json:"limits"` // the fields of scene.Limits to set; null: none
	gain   int
}

// spendStep is what a budget is rounded up to.
const spendStep = 5

// Loosen asks of each limit what loosening it a little would bring, where colours are
// missed: what brings any, the most first.
func (c *Choice) Loosen(ctx context.Context, s *solver.Session, p *solver.Problem) (found []Loosening, err error) {
	if len(c.Palettes) == 0 || c.reached() == len(p.Targets) {
		return nil, nil
	}
	try := func(l solver.Limits, make func(a *solver.Answer, words string) Loosening) error {
		a, err := s.Choose(ctx, l, p.Prefer, nil)
		if err != nil {
			return err
		}
		if gain := reachedBy(&a.Palettes[0]) - c.reached(); gain > 0 {
			out := make(a, c.gainWords(a, gain))
			out.gain = gain
			found = append(found, out)
		}
		return nil
	}
	l := p.Limits
	if l.MaxTubes > 0 {
		more := l
		more.MaxTubes++
		err := try(more, func(_ *solver.Answer, words string) Loosening {
			return Loosening{Words: "One tube more " + words, Act: fmt.Sprintf("most tubes %d", more.MaxTubes), Limits: map[string]any{"maxTubes": more.MaxTubes}}
		})
		if err != nil {
			return nil, err
		}
	}
	if _, bounded := l.Budget.Most(); bounded {
		free := l
		free.Budget = solver.Budget{}
		err := try(free, func(a *solver.Answer, words string) Loosening {
			spend := math.Ceil(float64(a.Palettes[0].Price)/100/spendStep) * spendStep
			return Loosening{Words: fmt.Sprintf("%.0f to spend %s", spend, words), Act: fmt.Sprintf("spend %.0f", spend), Limits: map[string]any{"budget": spend}}
		})
		if err != nil {
			return nil, err
		}
	}
	for i, class := range l.Avoid {
		without := l
		without.Avoid = slices.Delete(slices.Clone(l.Avoid), i, i+1)
		err := try(without, func(_ *solver.Answer, words string) Loosening {
			return Loosening{Words: fmt.Sprintf("Allowing what is %s %s", class, words), Act: "allowed: " + class, Limits: map[string]any{"avoid": without.Avoid}}
		})
		if err != nil {
			return nil, err
		}
	}
	if len(l.Only) > 0 {
		open := l
		open.Only = nil
		err := try(open, func(_ *solver.Answer, words string) Loosening {
			return Loosening{Words: "Buying beyond your box " + words, Act: "not only my box", Limits: map[string]any{"only": nil}}
		})
		if err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(found, func(a, b Loosening) int { return b.gain - a.gain })
	return found, nil
}

func reachedBy(p *solver.Palette) (n int) {
	for _, o := range p.Targets {
		if o.Reached {
			n++
		}
	}
	return n
}

// gainWords say what loosening brings: the colour by name where it is one.
func (c *Choice) gainWords(a *solver.Answer, gain int) string {
	if reachedBy(&a.Palettes[0]) == len(a.Palettes[0].Targets) {
		return fmt.Sprintf("reaches all %d", len(a.Palettes[0].Targets))
	}
	if gain > 1 {
		return fmt.Sprintf("reaches %d more", gain)
	}
	for i, o := range a.Palettes[0].Targets {
		if o.Reached && !c.Palettes[0].Targets[i].Reached {
			return "brings " + o.Target
		}
	}
	return "reaches 1 more"
}
