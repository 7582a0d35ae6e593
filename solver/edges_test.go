package solver

import (
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// edgeTubes are catalogues that a painter would hardly bring.
func edgeTubes(t *testing.T) map[string][]catalog.Tube {
	t.Helper()
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	named := func(ids ...string) (out []catalog.Tube) {
		for _, id := range ids {
			tube, err := all.Get(id)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, tube)
		}
		return out
	}
	var identical []catalog.Tube
	for i := range 9 {
		twin := named("ultramarine-blue")[0]
		twin.ID = fmt.Sprintf("twin-%d", i)
		identical = append(identical, twin)
	}
	// The least and the most that a band may absorb and scatter.
	extreme := named("ivory-black", "titanium-white")
	for b := range extreme[0].Paint.K {
		extreme[0].Paint.K[b], extreme[0].Paint.S[b] = film.CeilK, film.FloorS
		extreme[1].Paint.K[b], extreme[1].Paint.S[b] = film.FloorK, film.CeilS
	}
	return map[string][]catalog.Tube{
		"blacks":    named("ivory-black", "mars-black"),
		"whites":    named("titanium-white", "zinc-white", "lead-white"),
		"one tube":  named("burnt-sienna"),
		"identical": identical,
		"extreme":   extreme,
		"few":       named("titanium-white", "yellow-ochre", "ultramarine-blue", "burnt-sienna", "ivory-black"),
	}
}

// edgeTargets lie in, at and far outside any gamut, two of them on one spot.
func edgeTargets(tolerance float64) []Target {
	var out []Target
	for i, c := range []colour.Lab{
		{L: 0}, {L: 100}, {L: 50}, {L: 50}, {L: 50, A: 150, B: 150}, {L: 50, A: -150, B: -150}, {L: 100, A: 150, B: -150}, {L: 40, A: 4, B: 12}, {L: 0, A: -150, B: 150},
	} {
		out = append(out, Target{Name: fmt.Sprintf("e%d", i), Lab: c, Area: float64(i % 2), Tolerance: tolerance})
	}
	return out
}

// Every question about edge catalogues and edge colours has a defined answer,
// all of it numbers, under tolerances from next to nothing to everything.
func TestEdgesHaveFiniteAnswers(t *testing.T) {
	for name, tubes := range edgeTubes(t) {
		for _, tolerance := range []float64{1e-9, 3, 50, 1e6} {
			for paints := range 2 {
				p := Problem{Tubes: tubes, Targets: edgeTargets(tolerance), Surface: film.Dry, PaintsPerMix: paints}
				about := fmt.Sprintf("%s, tolerance %g, %d paints in a mix", name, tolerance, paints)
				s, err := NewSession(p)
				if err != nil {
					t.Errorf("%s: %v", about, err)
					continue
				}
				askEverything(t, about, s, &p)
			}
		}
	}
}

func askEverything(t *testing.T, about string, s *Session, p *Problem) {
	t.Helper()
	ctx := context.Background()
	a, err := s.Choose(ctx, p.Limits, p.Prefer, nil)
	if err != nil || len(a.Palettes) == 0 || len(a.Palettes[0].Tubes) == 0 {
		t.Errorf("%s: %+v, %v", about, a, err)
		return
	}
	best := &a.Palettes[0]
	ids := best.Tubes
	allFinite(t, about+": answer", reflect.ValueOf(a), "")
	for what, ask := range map[string]func() (any, error){
		"why":         func() (any, error) { return s.Why(context.Background(), ids) },
		"swaps":       func() (any, error) { return s.Swaps(ctx, p.Limits, ids) },
		"additions":   func() (any, error) { return s.Additions(ctx, ids, nil) },
		"at home":     func() (any, error) { return s.AtHome(ctx, ids) },
		"spare":       func() (any, error) { return s.BestSpare(context.Background(), ids) },
		"curve":       func() (any, error) { return s.Curve(ctx, p.Limits, p.Targets[0].Tolerance, nil) },
		"sensitivity": func() (any, error) { return s.Sensitivity(best), nil },
		"drifts":      func() (any, error) { d, _ := s.Drifts(best, colour.A()); return d, nil },
		"disjoint":    func() (any, error) { return s.DisjointNeeds(ctx, a) },
		"compare":     func() (any, error) { return s.Compare(ctx, []Named{{"a", *best}, {"b", *best}}) },
		"check": func() (any, error) {
			palette, missed, err := s.Check(ctx, ids, nil)
			return []any{palette, missed}, err
		},
	} {
		answer, err := ask()
		if err != nil {
			t.Errorf("%s: %s: %v", about, what, err)
			continue
		}
		allFinite(t, about+": "+what, reflect.ValueOf(answer), "")
	}
}

// allFinite fails the test at the first number that is none. The nearest
// without a tube is +Inf where no tube is left, and so documented.
func allFinite(t *testing.T, about string, v reflect.Value, at string) {
	t.Helper()
	switch v.Kind() {
	case reflect.Float64:
		nothing := math.IsInf(v.Float(), 1) && strings.HasSuffix(at, ".BestDE")
		if f := v.Float(); math.IsNaN(f-f) && !nothing {
			t.Errorf("%s: %s is %v", about, at, f)
		}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			allFinite(t, about, v.Elem(), at)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			allFinite(t, about, v.Index(i), at)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				allFinite(t, about, v.Field(i), at+"."+f.Name)
			}
		}
	}
}

// What each edge comes to, where that can be said beforehand.
func TestEdgesComeToWhatTheyMust(t *testing.T) {
	boxes := edgeTubes(t)
	grey := Target{Name: "grey", Lab: colour.Lab{L: 60}, Tolerance: 3}
	mud := Target{Name: "mud", Lab: colour.Lab{L: 45, A: 3, B: 8}, Tolerance: 3}
	for name, c := range map[string]struct {
		tubes   []catalog.Tube
		targets []Target
		limits  Limits
		paints  int
		size    int
		status  Status
	}{
		"everything is near enough":      {boxes["few"], edgeTargets(200), Limits{}, 0, 1, AllReached},
		"nothing is":                     {boxes["blacks"], edgeTargets(1e-9), Limits{}, 0, 1, SomeMissed},
		"identical tubes: one will do":   {boxes["identical"], edgeTargets(3), Limits{}, 0, 1, SomeMissed},
		"one paint makes no grey":        {boxes["few"], []Target{grey}, Limits{}, 1, 1, SomeMissed},
		"one tube of five":               {boxes["few"], []Target{grey, mud}, Limits{MaxTubes: 1}, 0, 1, SomeMissed},
		"all of them are kept":           {boxes["whites"], []Target{mud}, Limits{Keep: []string{"titanium-white", "zinc-white", "lead-white"}}, 0, 3, SomeMissed},
		"a budget of nothing, all owned": {boxes["whites"], []Target{{Name: "gull", Lab: colour.Lab{L: 94}, Tolerance: 10}}, Limits{Budget: Spend(0), Own: []string{"zinc-white"}}, 0, 1, AllReached},
	} {
		a, err := Choose(context.Background(), Problem{Tubes: c.tubes, Targets: c.targets, Limits: c.limits, Surface: film.Dry, PaintsPerMix: c.paints}, nil)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if got := len(a.Palettes[0].Tubes); got != c.size || a.Minimum.Tubes != c.size || a.Status != c.status {
			t.Errorf("%s: %d tubes (minimum %+v), %s; want %d, %s", name, got, a.Minimum, a.Status, c.size, c.status)
		}
		for _, o := range a.Palettes[0].Targets {
			if c.paints > 0 && len(o.Shares) > c.paints {
				t.Errorf("%s: %d paints in a mix", name, len(o.Shares))
			}
		}
	}
}

// Two targets on one spot come to the same mix.
func TestOneSpotOneMix(t *testing.T) {
	a, err := Choose(context.Background(), Problem{Tubes: edgeTubes(t)["few"], Targets: edgeTargets(5), Surface: film.Dry}, nil)
	if err != nil {
		t.Fatal(err)
	}
	x, y := a.Palettes[0].Targets[2], a.Palettes[0].Targets[3]
	if x.Target, y.Target = "", ""; !reflect.DeepEqual(x, y) {
		t.Errorf("%+v\n%+v", x, y)
	}
}

// What means nothing is refused where it comes in, by name.
func TestDoorsRefuse(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := Target{Name: "mud", Lab: colour.Lab{L: 40}, Tolerance: 3, Area: 1}
	with := func(change func(*Target)) []Target {
		bad := good
		bad.Name = "reeds"
		change(&bad)
		return []Target{good, bad}
	}
	for says, targets := range map[string][]Target{
		"there is no target":                   {},
		`"mud": the name is used twice`:        {good, good},
		`"reeds": a tolerance of 0 is no`:      with(func(t *Target) { t.Tolerance = 0 }),
		`"reeds": a tolerance of -1 is no`:     with(func(t *Target) { t.Tolerance = -1 }),
		`"reeds": a tolerance of NaN is no`:    with(func(t *Target) { t.Tolerance = nan }),
		`"reeds": a tolerance of +Inf is no`:   with(func(t *Target) { t.Tolerance = inf }),
		`"reeds": an area of NaN is no area`:   with(func(t *Target) { t.Area = nan }),
		`"reeds": an area of +Inf is no area`:  with(func(t *Target) { t.Area = inf }),
		`"reeds": an area of -1 is no area`:    with(func(t *Target) { t.Area = -1 }),
		`"reeds": its colour is not a number;`: with(func(t *Target) { t.Lab.A = nan }),
		`"reeds": its colour is not a number`:  with(func(t *Target) { t.Lab.L = -inf }),
	} {
		_, err := NewSession(Problem{Tubes: edgeTubes(t)["few"], Targets: targets, Surface: film.Dry})
		var input *InputError
		if !errors.As(err, &input) || !strings.Contains(err.Error(), says) {
			t.Errorf("want %q, got %v", says, err)
		}
	}
	if _, err := NewSession(Problem{Targets: []Target{good}, Surface: film.Dry}); err == nil {
		t.Error("no tubes, and no error")
	}
	for _, spoil := range []func(*film.Paint){
		func(p *film.Paint) { p.K[7] = 0 }, func(p *film.Paint) { p.S[7] = 0 }, func(p *film.Paint) { p.K[0] = nan }, func(p *film.Paint) { p.S[35] = inf }, func(p *film.Paint) { p.S[3] = -1 },
	} {
		tubes := edgeTubes(t)["few"]
		spoil(&tubes[2].Paint)
		if s, err := NewSession(Problem{Tubes: tubes, Targets: []Target{good}, Surface: film.Dry}); err == nil {
			t.Errorf("a tube with %v, %v is mixed: %v", tubes[2].Paint.K[7], tubes[2].Paint.S[7], s != nil)
		}
	}
	if _, err := NewSession(Problem{Tubes: edgeTubes(t)["few"], Targets: []Target{good}, Surface: film.Surface{K1: nan}}); !errors.Is(err, gamut.ErrPaints) {
		t.Errorf("a surface of no number: %v", err)
	}
	s, err := NewSession(Problem{Tubes: edgeTubes(t)["few"], Targets: []Target{good}, Surface: film.Dry})
	if err != nil {
		t.Fatal(err)
	}
	for _, loosest := range []float64{0, -1, nan} {
		if _, err := s.Curve(context.Background(), Limits{}, loosest, nil); !errors.As(err, new(*InputError)) {
			t.Errorf("a curve from %v: %v", loosest, err)
		}
	}
}

// Five hundred targets are a long scene, not a hang.
func TestFiveHundredTargets(t *testing.T) {
	var targets []Target
	for i := range 500 {
		c := colour.Lab{L: float64(20 + i%75), A: float64(i*7%60 - 30), B: float64(i*13%80 - 30)}
		targets = append(targets, Target{Name: fmt.Sprint(i), Lab: c, Area: 1, Tolerance: 6})
	}
	p := Problem{Tubes: edgeTubes(t)["few"], Targets: targets, Surface: film.Dry, MostPalettes: 1}
	a, err := Choose(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	allFinite(t, "500 targets", reflect.ValueOf(a), "")
	reached := 0
	for _, o := range a.Palettes[0].Targets {
		if o.Reached {
			reached++
		}
	}
	if out := len(a.Unreachable) + len(a.Missed); reached+out != len(targets) || reached == 0 || out == 0 {
		t.Errorf("%d reached and %d missed of %d", reached, out, len(targets))
	}
}

// A number that is none does not leave with an answer.
func TestAnswersWithoutNumbersAreHeldBack(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, spoil := range map[string]func(a *Answer){
		"worst":  func(a *Answer) { a.Palettes[0].WorstDE = nan },
		"mean":   func(a *Answer) { a.Palettes[0].MeanDE = inf },
		"mix":    func(a *Answer) { a.Palettes[0].Targets[0].Mix.B = nan },
		"parts":  func(a *Answer) { a.Palettes[0].Targets[0].PartsDE = nan },
		"need":   func(a *Answer) { a.Needs = []Need{{Target: "e0", BestDE: nan}} },
		"miss":   func(a *Answer) { a.Missed = append(a.Missed, Miss{Target: "e0", BestDE: inf}) },
		"helper": func(a *Answer) { a.Unreachable = append(a.Unreachable, Miss{Target: "e0", HelpDE: nan}) },
	} {
		s, err := NewSession(Problem{Tubes: edgeTubes(t)["one tube"], Targets: edgeTargets(50), Surface: film.Dry})
		if err != nil {
			t.Fatal(err)
		}
		limits := Limits{}
		a, err := s.Choose(context.Background(), limits, "", nil)
		if err != nil {
			t.Fatal(err)
		}
		spoil(a)
		if err := s.verify(a, &limits); err == nil || !strings.Contains(err.Error(), "internal") {
			t.Errorf("%s: %v", name, err)
		}
	}
}
