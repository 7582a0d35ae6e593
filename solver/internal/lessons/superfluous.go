package lessons

import (
	"cmp"
	"context"
	"slices"

	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
)

// Superfluous is a tube of a palette without which all that the palette reaches is
// still reached, and what it brings nearer.
type Superfluous struct {
	Tube    int
	Without set.Set // the palette without it
	Brings  []Gain  // most first
}

// Gain is a target that comes nearer, from one difference to another.
type Gain struct {
	Target   int
	From, To float64
}

// LeastGain is the gain in CIEDE2000 that is told: half of the last digit shown.
const LeastGain = 0.005

// Idle are those of some tubes of a palette that bring no target within reach. far
// are the palette's differences, per target.
func Idle(ctx context.Context, c *choice.Core, tubes, palette set.Set, far []float64) (out []Superfluous, err error) {
	var reached []int
	for t, de := range far {
		if de <= c.Tolerance[t] {
			reached = append(reached, t)
		}
	}
	if len(reached) == 0 {
		return nil, nil // any tube would do as well
	}
	idle, err := c.Superfluous(ctx, tubes, palette, reached)
	if err != nil {
		return nil, err
	}
	for _, i := range idle {
		less := palette.Clone()
		less.Remove(i)
		out = append(out, Superfluous{i, less, gains(c, less, far)})
	}
	return out, nil
}

// gains compare a palette's differences with those of a part of it: by what it
// misses, or by the rest where that comes no nearer.
func gains(c *choice.Core, less set.Set, far []float64) (out []Gain) {
	all := make([]Gain, len(far))
	parallel.Each(len(all), func(t int) { all[t] = Gain{t, c.Shown(t, less).DE, far[t]} })
	for _, reached := range []bool{false, true} {
		for t, g := range all {
			if (far[t] <= c.Tolerance[t]) == reached && g.From-g.To >= LeastGain {
				out = append(out, g)
			}
		}
		if len(out) > 0 {
			break
		}
	}
	slices.SortStableFunc(out, func(a, b Gain) int { return cmp.Compare(b.From-b.To, a.From-a.To) })
	return out
}
