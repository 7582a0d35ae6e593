package solver

import (
	"cmp"
	"context"
	"slices"

	"fewtubes/gamut/set"
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
func (s *Session) trim(ctx context.Context, known *core, d *decision, a *Answer) error {
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
	c := known.copied() // what is learnt here is not for later answers
	idle, err := c.superfluous(ctx, set.Minus(held, d.rules.Keep), held, reached)
	if err != nil {
		return err
	}
	for _, i := range idle {
		a.Superfluous = append(a.Superfluous, s.brings(c, d.rules, best, held, i))
	}
	if d.smaller != nil {
		a.Smaller = &s.palettes(ctx, c, []set.Set{d.smaller}, 1, d.rules, d.unreachable)[0]
	}
	return ctx.Err()
}

// brings compares a palette with what it is without a tube: by what it misses, or
// by the rest where that comes no nearer.
func (s *Session) brings(c *core, r *cover.Rules, best *Palette, held set.Set, tube int) Superfluous {
	less := held.Clone()
	less.Remove(tube)
	out := Superfluous{Tube: s.index.tubes[tube].ID, Tubes: less.Len(), Price: r.Weight(less)}
	gains := make([]Gain, len(best.Targets))
	parallel.Each(len(gains), func(t int) {
		o := &best.Targets[t]
		gains[t] = Gain{o.Target, c.shown(t, less).DE, o.DE}
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

// superfluous are those of some tubes of a palette without each of which it
// reaches the same targets.
func (c *core) superfluous(ctx context.Context, tubes, palette set.Set, reached []int) (idle []int, err error) {
	for _, i := range tubes.Members() {
		less := palette.Clone()
		less.Remove(i)
		spared, err := c.surelyReachesAll(ctx, less, reached)
		if err != nil {
			return nil, err
		}
		if spared {
			idle = append(idle, i)
		}
	}
	return idle, nil
}

func (c *core) surelyReachesAll(ctx context.Context, palette set.Set, targets []int) (bool, error) {
	for _, t := range targets {
		if misses, err := c.known[t].SurelyMisses(ctx, palette, c.tolerance[t]); misses || err != nil {
			return false, err
		}
	}
	return true, nil
}
