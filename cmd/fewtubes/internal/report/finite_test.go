package report

import (
	"math"
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/solver"
)

// A document with a number that is none is refused by the name of its field, in
// every form; only what is left without a tube may be nothing at all.
func TestFiniteNamesTheField(t *testing.T) {
	for where, spoil := range map[string]func(*Choice){
		"palettes[0].worst_de":          func(c *Choice) { c.Palettes[0].WorstDE = shown.Hundredths(math.NaN()) },
		"palettes[0].targets[0].lab[1]": func(c *Choice) { c.Palettes[0].Targets[0].Lab[1] = shown.Hundredths(math.Inf(-1)) },
		"palettes[0].targets[0].de":     func(c *Choice) { c.Palettes[0].Targets[0].DE = shown.Hundredths(math.Inf(1)) },
		"needs[0].best_de":              func(c *Choice) { c.Needs = []Need{{BestDE: shown.Without(math.NaN())}} },
		"why[0].targets[0].best_de":     func(c *Choice) { c.Why = []Reason{{Targets: []Loss{{BestDE: shown.Without(math.Inf(-1))}}}} },
		"addition.mean_de":              func(c *Choice) { c.Addition = &Addition{MeanDE: shown.Hundredths(math.NaN())} },
		"superfluous[0].brings[0].from": func(c *Choice) {
			c.Superfluous = []solver.Superfluous{{Brings: []solver.Gain{{From: shown.Hundredths(math.Inf(1))}}}}
		},
		"palettes[0].targets[0].shares[0].Fraction": func(c *Choice) {
			c.Palettes[0].Targets[0].Shares = shown.Shares{solver.Share{Fraction: math.NaN()}}
		},
	} {
		c := &Choice{Palettes: []Palette{{Targets: []Target{{}}}}}
		if err := shown.Finite(c); err != nil {
			t.Fatal(err)
		}
		spoil(c)
		if err := shown.Finite(c); err == nil || !strings.Contains(err.Error(), " "+where+" is ") {
			t.Errorf("%s: %v", where, err)
		}
		if text, err := shown.JSON(c); err == nil {
			t.Errorf("%s: written as\n%s", where, text)
		}
	}
}

func TestNoTubeLeft(t *testing.T) {
	c := &Choice{Needs: []Need{{Target: "wet mud", OneOf: []string{"a"}, BestDE: shown.Without(math.Inf(1))}}}
	text, err := shown.JSON(c)
	if err != nil || !strings.Contains(string(text), `"best_de": null`) {
		t.Errorf("%v\n%s", err, text)
	}
	if got := c.Needs[0].BestDE.Sentence(); got != "no paint left" {
		t.Errorf("says %q", got)
	}
}
