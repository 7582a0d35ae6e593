package solver

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"fewtubes/catalog"
)

func TestLimitsThatContradict(t *testing.T) {
	tubes := []catalog.Tube{
		{ID: "white", Price: 500},
		{ID: "red", Price: 900, Hazards: []string{"cadmium"}},
		{ID: "blue", Price: 700},
	}
	x, err := newIndex(tubes)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		limits Limits
		named  []string
		why    Contradiction
	}{
		"kept and never":  {Limits{Keep: []string{"red"}, Never: []string{"red"}}, []string{"keep red", "never red"}, KeptAndNever},
		"kept, not only":  {Limits{Keep: []string{"red"}, Only: []string{"blue"}}, []string{"keep red", "only blue"}, KeptNotOnly},
		"kept, avoided":   {Limits{Keep: []string{"red"}, Avoid: []string{"cadmium"}}, []string{"avoid cadmium", "keep red"}, KeptAvoided},
		"too many kept":   {Limits{Keep: []string{"red", "blue"}, MaxTubes: 1}, []string{"at most 1 tube", "keep blue", "keep red"}, TooManyKept},
		"too dear":        {Limits{Budget: Spend(1000), Keep: []string{"red", "blue"}}, []string{"a budget of 10.00", "keep blue", "keep red"}, KeptTooDear},
		"two of a group":  {Limits{Keep: []string{"red", "blue"}, AtMostOne: [][]string{{"red", "blue", "white"}}}, []string{"at most one of red, blue, white", "keep blue", "keep red"}, KeptOfGroup},
		"nothing left":    {Limits{Only: []string{"red"}, Avoid: []string{"cadmium"}}, []string{"avoid cadmium", "only red"}, NoTubeLeft},
		"nothing payable": {Limits{Budget: Spend(100), Never: []string{"red"}}, []string{"a budget of 1.00", "never red"}, NoTubePayable},
	} {
		_, err := x.rules(&c.limits)
		var wrong *ContradictionError
		if !errors.As(err, &wrong) {
			t.Errorf("%s: %v", name, err)
			continue
		}
		var named []string
		for _, l := range wrong.Limits {
			named = append(named, l.String())
		}
		if !slices.Equal(named, c.named) || wrong.Why != c.why {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestUnknownNames(t *testing.T) {
	x, _ := newIndex([]catalog.Tube{{ID: "titanium-white"}, {ID: "burnt-sienna"}})
	_, err := x.rules(&Limits{Keep: []string{"titanum-white"}})
	var tube *catalog.UnknownTube
	if !errors.As(err, &tube) || !strings.Contains(err.Error(), "titanium-white") || !strings.HasPrefix(err.Error(), "keep: ") {
		t.Error(err)
	}
	_, err = x.rules(&Limits{Avoid: []string{"cadmiun"}})
	var class *UnknownError
	if !errors.As(err, &class) || class.Similar != "cadmium" {
		t.Error(err)
	}
}

func TestTargetsThatMeanNothing(t *testing.T) {
	good := sceneTargets(2, 2)
	for name, spoil := range map[string]func([]Target) []Target{
		"none":          func([]Target) []Target { return nil },
		"twice":         func(x []Target) []Target { x[1].Name = x[0].Name; return x },
		"not a number":  func(x []Target) []Target { x[1].Lab.A = math.NaN(); return x },
		"no tolerance":  func(x []Target) []Target { x[1].Tolerance = 0; return x },
		"negative area": func(x []Target) []Target { x[1].Area = -1; return x },
	} {
		p := sceneProblem(t, 2, 2)
		p.Targets = spoil(slices.Clone(good))
		_, err := Choose(context.Background(), p, nil)
		var wrong *InputError
		if !errors.As(err, &wrong) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
