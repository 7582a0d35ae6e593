package solver

import (
	"context"
	"math"
	"slices"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
)

// teach is a session with an answer to explain.
func teach(t *testing.T) (*Session, *Answer) {
	t.Helper()
	p := sceneProblem(t, 10, 1.5)
	p.MostPalettes, p.MaxPartsTotal = 2, 6
	s, err := NewSession(p)
	if err != nil {
		t.Fatal(err)
	}
	a, err := s.Choose(context.Background(), Limits{}, Accuracy, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s, a
}

// In a smallest palette no tube is idle, and what needs a tube is missed
// without it by a check of its own.
func TestWhyEveryTubeIsThere(t *testing.T) {
	s, a := teach(t)
	tubes := a.Palettes[0].Tubes
	reasons, err := s.Why(context.Background(), tubes)
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range reasons {
		if r.Tube != tubes[i] || len(r.Targets) == 0 {
			t.Errorf("%+v", r)
		}
		without := slices.DeleteFunc(slices.Clone(tubes), func(id string) bool { return id == r.Tube })
		_, missed, err := s.Check(context.Background(), without, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, loss := range r.Targets {
			if !slices.ContainsFunc(missed, func(m Miss) bool { return m.Target == loss.Target }) {
				t.Errorf("%s is reached without %s", loss.Target, r.Tube)
			}
		}
		if len(missed) != len(r.Targets) {
			t.Errorf("without %s %d are missed, not %d", r.Tube, len(missed), len(r.Targets))
		}
	}
}

// Disjoint needs are as many as the tubes and share none.
func TestDisjointNeeds(t *testing.T) {
	s, a := teach(t)
	needs, err := s.DisjointNeeds(context.Background(), a)
	if err != nil {
		t.Fatal(err)
	}
	if needs == nil {
		t.Fatal("no disjoint needs for a plain scene")
	}
	if len(needs) != a.Minimum.Tubes {
		t.Errorf("%d needs for %d tubes", len(needs), a.Minimum.Tubes)
	}
	seen := map[string]bool{}
	for _, n := range needs {
		for _, id := range n.OneOf {
			if seen[id] {
				t.Errorf("%s is in two needs", id)
			}
			seen[id] = true
		}
	}
}

// Every fragile reach is one by the answer's own figures, and none is left out.
func TestSensitivity(t *testing.T) {
	s, a := teach(t)
	p := &a.Palettes[0]
	want := map[Fragile]bool{}
	for _, o := range p.Targets {
		if 1.5-o.DE < 0.3 {
			want[Fragile{o.Target, OnAHair, "", 1.5 - o.DE}] = true
		}
		for _, share := range o.Shares {
			if share.Fraction < 0.02 {
				want[Fragile{o.Target, OnATrace, share.ID, share.Fraction}] = true
			}
			if s.tube(share.ID).Basis == catalog.Estimated {
				want[Fragile{o.Target, OnAnEstimate, share.ID, share.Fraction}] = true
			}
		}
	}
	got := s.Sensitivity(p)
	for _, f := range got {
		if !want[f] {
			t.Errorf("%+v", f)
		}
	}
	if len(got) != len(want) {
		t.Errorf("%d of %d", len(got), len(want))
	}
}

// Under its own light nothing drifts; under a lamp something does, and no two
// shifts are more unlike than the two named.
func TestDrifts(t *testing.T) {
	s, a := teach(t)
	still, _ := s.Drifts(&a.Palettes[0], colour.D65())
	for _, d := range still {
		if d.Miss.DE > 1e-9 {
			t.Errorf("%s drifts by %v under its own light", d.Target, d.Miss.DE)
		}
	}
	drifts, apart := s.Drifts(&a.Palettes[0], colour.A())
	most := unlike(&drifts[apart[0]], &drifts[apart[1]])
	if most <= 0 {
		t.Error("no shift under a lamp")
	}
	for i := range drifts {
		for j := range drifts {
			if unlike(&drifts[i], &drifts[j]) > most+1e-12 {
				t.Errorf("%s and %s are more unlike", drifts[i].Target, drifts[j].Target)
			}
		}
	}
}

func TestCompareCountsWhatThePalettesSay(t *testing.T) {
	s, a := teach(t)
	small, _, err := s.Check(context.Background(), a.Palettes[0].Tubes[:2], nil)
	if err != nil {
		t.Fatal(err)
	}
	c, err := s.Compare(context.Background(), []Named{{"chosen", a.Palettes[0]}, {"two", small}})
	if err != nil {
		t.Fatal(err)
	}
	area, whole := 0.0, 0.0
	for i, o := range small.Targets {
		whole += s.problem.Targets[i].Area
		if o.Reached {
			area += s.problem.Targets[i].Area
		} else if !slices.Contains(c.Differ, o.Target) {
			t.Errorf("%s does not differ", o.Target)
		}
	}
	full, two := c.Palettes[0], c.Palettes[1]
	if full.Reached != len(s.problem.Targets) || full.AreaReached != 1 || math.Abs(two.AreaReached-area/whole) > 1e-12 {
		t.Errorf("%+v\n%+v", full, two)
	}
	if two.Volume >= full.Volume || two.GreensWorstDE < full.GreensWorstDE {
		t.Errorf("two tubes hold more: %v of %v, greens %v of %v", two.Volume, full.Volume, two.GreensWorstDE, full.GreensWorstDE)
	}
}

// One tube more must help as much as every other tube could.
func TestAdditionAndSpare(t *testing.T) {
	s, a := teach(t)
	tubes := a.Palettes[0].Tubes
	spare, err := s.BestSpare(context.Background(), tubes)
	if err != nil || len(spare.Lost) == 0 {
		t.Fatalf("%+v, %v", spare, err)
	}
	less := slices.DeleteFunc(slices.Clone(tubes), func(id string) bool { return id == spare.Tube })
	added, err := s.Additions(context.Background(), less, nil)
	if err != nil {
		t.Fatal(err)
	}
	// The tube that was taken away brings everything back, so the best does.
	if len(added) != 1 || added[0].Tubes != 1 || len(added[0].Sets[0].Reached) != len(spare.Lost) {
		t.Errorf("%+v brings back less than %+v lost", added, spare)
	}
	if none, err := s.BestSpare(context.Background(), tubes[:1]); none != nil || err != nil {
		t.Errorf("%+v, %v", none, err)
	}
}

// A session answers the next question as a fresh choice does.
func TestSessionAgreesWithFreshChoices(t *testing.T) {
	s, a := teach(t)
	for _, limits := range []Limits{
		{Never: a.Palettes[0].Tubes[:1]},
		{Avoid: []string{"cadmium", "cobalt"}},
		{Budget: Spend(a.Palettes[0].Price - 1)},
		{Keep: []string{"ivory-black"}},
	} {
		next, err := s.Choose(context.Background(), limits, Price, nil)
		if err != nil {
			t.Fatal(err)
		}
		p := s.problem
		p.Limits, p.Prefer = limits, Price
		fresh, err := Choose(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if next.Minimum != fresh.Minimum || next.Status != fresh.Status || next.Palettes[0].Price != fresh.Palettes[0].Price {
			t.Errorf("%+v: %+v %d, fresh %+v %d", limits, next.Minimum, next.Palettes[0].Price, fresh.Minimum, fresh.Palettes[0].Price)
		}
	}
}
