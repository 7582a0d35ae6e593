package solver

import (
	"cmp"
	"context"
	"slices"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/parallel"
)

// Superfluous is a tube of a palette without which all that the palette reaches is
// still reached, within the same limits. It is there since it brings nearer what
// the limits put out of reach.
type Superfluous struct {
	Tube   string
	Brings []Gain // most first
	Tubes  int    // of the palette without it
	Price  int    // of that
}

// Gain is a target that comes nearer, from one difference to another.
type Gain struct {
	Target   string
	From, To float64
}

// leastGain is the gain in CIEDE2000 that is told: half of the last digit shown.
const leastGain = 0.005

// trim says what tubes of the best palette are there for that bring no target
// within reach, where limits force misses, and mixes the smaller palette.
func (s *Session) trim(ctx context.Context, known *choice.Core, d *choice.Decision, a *Answer) error {
	best := &a.Palettes[0]
	held, _ := s.index.find("palette", best.Tubes)
	var reached []int
	for t, o := range best.Targets {
		if o.Reached {
			reached = append(reached, t)
		}
	}
	if len(reached) == 0 {
		return nil // any tube would do as well
	}
	c := known.Copy() // what is learnt here is not for later answers
	idle, err := c.Superfluous(ctx, set.Minus(held, d.Rules.Keep), held, reached)
	if err != nil {
		return err
	}
	for _, i := range idle {
		a.Superfluous = append(a.Superfluous, s.brings(c, d.Rules, best, held, i))
	}
	if d.Smaller != nil {
		a.Smaller = &s.palettes(ctx, c, []set.Set{d.Smaller}, 1, d.Rules, d.Unreachable)[0]
	}
	return ctx.Err()
}

// brings compares a palette with what it is without a tube: by what it misses, or
// by the rest where that comes no nearer.
func (s *Session) brings(c *choice.Core, r *cover.Rules, best *Palette, held set.Set, tube int) Superfluous {
	less := held.Clone()
	less.Remove(tube)
	out := Superfluous{Tube: s.index.tubes[tube].ID, Tubes: less.Len(), Price: r.Weight(less)}
	gains := make([]Gain, len(best.Targets))
	parallel.Each(len(gains), func(t int) {
		o := &best.Targets[t]
		gains[t] = Gain{o.Target, c.Shown(t, less).DE, o.DE}
	})
	for _, reached := range []bool{false, true} {
		for t, g := range gains {
			if best.Targets[t].Reached == reached && g.From-g.To >= leastGain {
				out.Brings = append(out.Brings, g)
			}
		}
		if len(out.Brings) > 0 {
			break
		}
	}
	slices.SortStableFunc(out.Brings, func(a, b Gain) int { return cmp.Compare(b.From-b.To, a.From-a.To) })
	return out
}
