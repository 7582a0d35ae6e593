package report

import (
	"context"
	"fmt"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/gamut/colour"
	"fewtubes/solver"
)

// Landing is where a recipe, measured out to the letter, comes out in plausible boxes.
type Landing struct {
	Median shown.Hundredths `json:"median_de"` // to the target
	Nine   shown.Hundredths `json:"nine_de"`   // nine in ten come within it
	Words  string           `json:"words"`     // to which sides it varies most
	Last   string           `json:"last"`      // tube to add last, by sight
	Other  string           `json:"other,omitempty"`
}

// SwatchFirst is the swatch that would teach most about the recipes of the best palette,
// the first of a chart to learn from.
type SwatchFirst struct {
	Recipe string  `json:"recipe"` // as measure reads it
	Words  string  `json:"-"`
	Left   float64 `json:"left"`  // of what is in doubt about their colours, once it is read; 0..1
	Holds  int     `json:"holds"` // plausible boxes in which the palette then holds, where it came out as foretold
}

// Steer adds where the recipes of the best palette land in boxes 1..draws.
func (c *Choice) Steer(ctx context.Context, s *solver.Session, draws int) error {
	best := &c.Palettes[0]
	recipes := make([][]solver.Share, len(best.Targets))
	for i := range best.Targets {
		recipes[i] = best.Targets[i].volumes()
	}
	landings, err := s.Landings(ctx, best.Tubes, recipes, draws)
	if err != nil {
		return err
	}
	for i, l := range landings {
		if len(recipes[i]) == 0 {
			continue
		}
		best.Targets[i].Landing = &Landing{shown.Nearest(l.Median), shown.Nearest(l.Nine), sides(l.Low, l.High), l.Last, l.Other}
	}
	return nil
}

// byEye stands before the parts of a recipe that mostly lands out of reach, where that
// was asked for.
func (t Target) byEye() string {
	if t.Landing == nil || !t.Reached || t.Landing.Median <= t.Tolerance {
		return ""
	}
	return "mix by eye toward the swatch: "
}

// volumes are the shares of the recipe shown.
func (t *Target) volumes() []solver.Share {
	if t.Coarse() {
		return t.Shares
	}
	return (&hand.Recipe{Parts: t.piles()}).Shares()
}

// sides says what tells two colours apart, seen from half way between them: "too dark
// or too light".
func sides(low, high colour.Lab) string {
	a, b := colour.Direction(low, high), colour.Direction(high, low)
	if len(a.Faults) == 0 || len(b.Faults) == 0 {
		return ""
	}
	return fmt.Sprintf("%s or %s", a.Faults[0].Fault, b.Faults[0].Fault)
}

// steerSections are the lessons about recipes in other makers' tubes, where asked for.
func (c *Choice) steerSections() (out []lesson) {
	if steering := c.steering(); len(steering) > 0 {
		intro := fmt.Sprintf("Where each recipe lands, measured out to the letter, in half of %d plausible boxes and in nine of ten (ΔE00), and how to steer.", c.Doubt.Draws)
		out = append(out, lesson{"In the tubes of other makers", intro, steering})
	}
	if line := c.SwatchSentence(); line != "" {
		out = append(out, lesson{"What to swatch first", line + toLearn, nil})
	}
	return out
}

// steering is what is said of each recipe.
func (c *Choice) steering() (out []entry) {
	if len(c.Palettes) == 0 {
		return nil
	}
	for _, t := range c.Palettes[0].Targets {
		l := t.Landing
		if l == nil || !t.Reached {
			continue
		}
		says := fmt.Sprintf("%s, %s", l.Median, l.Nine)
		if l.Words != "" {
			says += "; " + l.Words
		}
		says += fmt.Sprintf("; add %s last, by sight", c.name(l.Last))
		if l.Other != "" {
			says += fmt.Sprintf(", and have %s at hand for the other side", c.name(l.Other))
		}
		out = append(out, entry{t.Name, says})
	}
	return out
}

const toLearn = " fewtubes chart --learn, told this palette and scene, prints it and what comes next; fewtubes measure --pile learns from it."

// SwatchSentence names the swatch that would teach most; empty: none would.
func (c *Choice) SwatchSentence() string {
	f := c.SwatchFirst
	if f == nil || c.Doubt == nil {
		return ""
	}
	out := fmt.Sprintf("Paint out %s and read its colour: of all swatches of these tubes it would teach most about the recipes (left: %.0f %% of what is in doubt about their colours).", f.Words, 100*f.Left)
	if f.Holds > c.Doubt.Holds {
		out += fmt.Sprintf(" Where it comes out as foretold, the palette holds in %d of %d plausible boxes instead of %d.", f.Holds, c.Doubt.Draws, c.Doubt.Holds)
	}
	return out
}
