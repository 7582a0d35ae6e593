package report

import (
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/solver"
)

// A plan draws what the report tells: the same tubes, reach, differences and recipes.
func TestPlanIsTheChoice(t *testing.T) {
	c := fixture()
	p, best := c.Plan(), c.Palettes[0]
	if p.Headline != "Five tubes. Fewer will not do." || p.Brief != "five is the fewest" || !p.Minimum || p.Others != "More than 1 other fives" {
		t.Errorf("%q, %q, %t, %q", p.Headline, p.Brief, p.Minimum, p.Others)
	}
	// Missed are the low cloud and the buoy, a quarter and a hundredth of the picture.
	if p.Reached != c.reached() || p.Of != len(best.Targets) || p.Area != "74.0" || p.Price != best.Price || p.Draws != 0 {
		t.Errorf("%d of %d, %s %%, %v, %d draws", p.Reached, p.Of, p.Area, p.Price, p.Draws)
	}
	for i, row := range c.page().Rows {
		got := p.Targets[i]
		if got.Name != row.Name || got.Mixed != row.MixHex || got.DE != row.RecipeDE || got.Within != row.Reached || got.Recipe != row.Recipe || got.Word != row.Word {
			t.Errorf("%+v\nis not\n%+v", got, row)
		}
		if (got.Miss == "") != got.Within || len(got.Parts) == 0 {
			t.Errorf("%s: %q, %d parts", got.Name, got.Miss, len(got.Parts))
		}
	}
	for i, s := range c.Swatches(best.Tubes) {
		if got := p.Tubes[i]; got.ID != s.ID || got.Masstone != s.Masstone || got.Tint != s.Tint || len(got.Hazards) != len(s.Hazards) {
			t.Errorf("%+v is not %+v", got, s)
		}
	}
}

// What a headline says of an answer.
func TestHeadlines(t *testing.T) {
	c := fixture()
	headline := func(change func(*Choice)) string {
		changed := *c
		change(&changed)
		return changed.Plan().Headline
	}
	for want, change := range map[string]func(*Choice){
		"No tube is allowed.":                 func(c *Choice) { c.Palettes = nil },
		"Five tubes: two colours short.":      func(c *Choice) { c.Conflict = []string{"at most 5 tubes"} },
		"Five tubes, perhaps not the fewest.": func(c *Choice) { c.Minimum.Proof = solver.Interrupted },
		"Five tubes. Fewer will not do.":      func(*Choice) {},
		"None of these can be mixed.": func(c *Choice) {
			c.Missed = make([]Miss, len(c.Palettes[0].Targets))
			for i := range c.Missed {
				c.Missed[i].Unreachable = true
			}
		},
	} {
		if got := headline(change); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Loosened limits bring what they say: chosen anew under them, so many more colours
// are reached. The colours are invented.
func TestLoosenedLimitsBringWhatTheySay(t *testing.T) {
	p := fixtureProblem()
	var targets []solver.Target
	for _, text := range []string{"lab(88 -1 6)", "lab(42 3 10)", "lab(48 -8 28)", "lab(55 -3 -10)", "lab(74 0 -2)"} {
		lab, err := colour.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		targets = append(targets, solver.Target{Name: text, Lab: lab, Area: 1, Tolerance: 6})
	}
	p.Targets = targets
	p.Limits = solver.Limits{MaxTubes: 2, Avoid: []string{"cadmium"}}
	s, err := solver.NewSession(*p)
	if err != nil {
		t.Fatal(err)
	}
	a, err := s.Choose(t.Context(), p.Limits, "", nil)
	if err != nil {
		t.Fatal(err)
	}
	c := NewChoice(Scene{Tolerance: 6}, p, a)
	found, err := c.Loosen(t.Context(), s, p)
	if err != nil || len(found) == 0 {
		t.Fatalf("%v, %v: the limits do not try it", found, err)
	}
	for _, l := range found {
		limits := p.Limits
		if n, ok := l.Limits["maxTubes"].(int); ok {
			limits.MaxTubes = n
		}
		if avoid, ok := l.Limits["avoid"].([]string); ok {
			limits.Avoid = avoid
		}
		loosened, err := s.Choose(t.Context(), limits, "", nil)
		if err != nil {
			t.Fatal(err)
		}
		if more := reachedBy(&loosened.Palettes[0]) - c.reached(); more != l.gain || more < 1 {
			t.Errorf("%q: %d more, not %d", l.Words, more, l.gain)
		}
		t.Log(l.Words, l.Act)
	}
}
