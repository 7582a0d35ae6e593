package report

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/solver"
)

// fewDraws is in how many plausible boxes what could stand in, or be added, is tried.
const fewDraws = 100

// DoubtChosen asks in how many plausible boxes an answer holds; and in how many its needs
// and what could stand in do, unless only what comes first is shown.
func (l *Learned) DoubtChosen(ctx context.Context, s *solver.Session, a *solver.Answer, draws int, first bool) (err error) {
	if first {
		l.Doubt, err = s.DoubtBriefly(ctx, a.Palettes, draws)
		return err
	}
	if l.Doubt, err = s.Doubt(ctx, a.Palettes, draws); err != nil {
		return err
	}
	if a.Minimum.Proof != solver.InDraws { // those say so themselves
		lists := [][]solver.Need{a.Needs, a.NeedsToBuy, l.Disjoint}
		spared, err := s.Spared(ctx, a.Limits, slices.Concat(lists...), draws)
		if err != nil {
			return err
		}
		for _, needs := range lists {
			for i := range needs {
				needs[i].Spared, spared = spared[0], spared[1:]
			}
		}
	}
	return s.ShareSwaps(ctx, &a.Palettes[0], l.Swaps, mostTold, min(draws, fewDraws))
}

// DoubtKept asks the same about a palette the painter has, and about what could be added.
func (l *Learned) DoubtKept(ctx context.Context, s *solver.Session, p *solver.Palette, draws int, first bool) (err error) {
	if first {
		l.Doubt, err = s.DoubtBriefly(ctx, []solver.Palette{*p}, draws)
		return err
	}
	if l.Doubt, err = s.Doubt(ctx, []solver.Palette{*p}, draws); err != nil {
		return err
	}
	few := min(draws, fewDraws)
	if err := s.ShareSwaps(ctx, p, l.Swaps, mostTold, few); err != nil {
		return err
	}
	return s.ShareAdditions(ctx, p, l.Additions, mostTold, few)
}

// holdsOf says in how many boxes a change of the palette holds.
func holdsOf(holds, draws int) string {
	if draws == 0 {
		return ""
	}
	return fmt.Sprintf(", holds for %d of %d", holds, draws)
}

// sparedWords say where a need does not hold.
func (c *Choice) sparedWords(n Need) string {
	if n.Boxes > 0 && c.Sure != nil {
		return fmt.Sprintf(" (in %d or more of %d boxes)", n.Boxes, c.Sure.Draws)
	}
	if n.Spared == 0 || c.Doubt == nil {
		return ""
	}
	return fmt.Sprintf(" (not in every box: in %d or more of %d other tubes reach it)", n.Spared, c.Doubt.Draws)
}

// briefDoubt is DoubtSentence where there is little room.
func (c *Choice) briefDoubt() string {
	d := c.Doubt
	if d == nil || !slices.ContainsFunc(c.Palettes[0].Targets, func(t Target) bool { return t.Reached }) || c.Sure != nil {
		return ""
	}
	out := fmt.Sprintf("It holds in %d of %d plausible boxes of other makers' tubes", d.Holds, d.Draws)
	if d.Best > d.Holds {
		out += fmt.Sprintf(", the surest listed in %d", d.Best)
	}
	return out + "."
}

// weakest targets are named in a sentence about doubt.
const weakest = 3

// DoubtSentence says how sure the palette is, and whether another is surer.
func (c *Choice) DoubtSentence() string {
	d := c.Doubt
	if d == nil || len(d.Targets) == 0 {
		return ""
	}
	what := "every colour it reaches"
	if len(d.Targets) == 1 {
		what = "the colour it reaches"
	}
	if d.Holds == d.Draws {
		return fmt.Sprintf("How sure: remixed in the tubes of other makers, this palette still reaches %s in all of %d plausible boxes.", what, d.Draws)
	}
	out := fmt.Sprintf("How sure: remixed in the tubes of other makers, this palette still reaches %s in %d of %d plausible boxes", what, d.Holds, d.Draws)
	weak := slices.Clone(d.Targets)
	slices.SortStableFunc(weak, func(a, b solver.Holding) int { return cmp.Compare(a.Holds, b.Holds) })
	weak = slices.DeleteFunc(weak, func(h solver.Holding) bool { return h.Holds == d.Draws })
	var words []string
	for _, h := range weak[:min(len(weak), weakest)] {
		words = append(words, fmt.Sprintf("%s (%d)", h.Target, h.Holds))
	}
	if len(d.Targets) > 1 && len(words) > 0 {
		out += "; least surely " + shown.Listed(words, "and")
	}
	out += "."
	if d.Best > d.Holds {
		out += fmt.Sprintf(" The surest found of the %s listed of its size does in %d: %s.",
			shown.Counted(len(c.Palettes), "palette"), d.Best, c.change(c.Palettes[0].Tubes, d.Surest))
	}
	return out
}

// Sure is what is known of palettes that hold in enough plausible boxes.
type Sure struct {
	solver.Sure
	InTheWay []string `json:"in_the_way"` // limits, where not reached
}

// Assure adds what is known of such palettes; nil: that was not asked.
func (c *Choice) Assure(s *solver.Sure) {
	if s == nil {
		return
	}
	c.Sure = &Sure{*s, []string{}}
	for _, l := range s.InTheWay {
		c.Sure.InTheWay = append(c.Sure.InTheWay, l.String())
	}
}

// SureSentence says what was asked of the boxes, what came of it, and how well that
// stands in others.
func (c *Choice) SureSentence() string {
	s := c.Sure
	if s == nil {
		return ""
	}
	n := len(c.Palettes[0].Tubes)
	of := fmt.Sprintf("Asked was for %d of %d plausible boxes", s.Needed, s.Draws)
	out := ""
	switch {
	case !s.Reached:
		out = fmt.Sprintf("%s, and no palette allowed is known to hold in so many: this one holds in %d.%s", of, s.Holds, c.inTheWay())
	case c.Minimum.AtLeast < n:
		out = fmt.Sprintf("%s: this palette holds in %d. None of fewer than %s holds in enough; whether one of fewer than %s does was not settled.",
			of, s.Holds, shown.Counted(c.Minimum.AtLeast, "tube"), shown.Spelled(n))
	default:
		out = fmt.Sprintf("%s: this palette holds in %d, and fewer tubes will not do.", of, s.Holds)
	}
	if s.AtMost == s.Draws && s.AtMost > s.Holds {
		// nothing is known
	} else if s.AtMost > s.Holds {
		out += fmt.Sprintf(" No palette of %s holds in more than %d.", shown.Counted(n, "tube"), s.AtMost)
	} else {
		out += fmt.Sprintf(" No palette of %s holds in more.", shown.Counted(n, "tube"))
	}
	if f := s.Fewer; f != nil && s.Reached {
		out += " The best of one tube fewer "
		switch {
		case f.AtMost == s.Draws && f.AtMost > f.Holds:
			out += fmt.Sprintf("that was found holds in %d.", f.Holds)
		case f.AtMost > f.Holds:
			out += fmt.Sprintf("that was found holds in %d; none holds in more than %d.", f.Holds, f.AtMost)
		default:
			out += fmt.Sprintf("holds in %d.", f.Holds)
		}
	}
	out += fmt.Sprintf(" In %d fresh boxes, which had no part in the choice, it holds in %d: of all plausible boxes at least %.1f %% (exact bound at 99 %%).",
		s.Fresh.Draws, s.Fresh.Holds, s.Fresh.AtLeast)
	if s.Reached && s.Fresh.AtLeast < s.Asked {
		out += " Such a bound lies about two points under the share itself."
	}
	return out
}

// inTheWay says what keeps every palette from holding in enough boxes.
func (c *Choice) inTheWay() string {
	s := c.Sure
	if len(s.InTheWay) > 0 {
		return " In the way: " + shown.Listed(s.InTheWay, "and") + "."
	}
	var words []string
	for _, h := range s.Together {
		if h.Holds < s.Needed {
			words = append(words, fmt.Sprintf("%s (%d)", h.Target, h.Holds))
		}
	}
	if len(words) == 0 {
		return ""
	}
	return " All the allowed tubes together reach too seldom: " + shown.Listed(words, "and") + "."
}
