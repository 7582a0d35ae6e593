package solver

import (
	"context"
	"encoding/json"
	"reflect"
	"runtime"
	"slices"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/film"
	"fewtubes/gamut/film/doubt"
	"fewtubes/gamut/set"
	boxes "fewtubes/solver/internal/doubt"
)

// holdsAfresh counts the boxes in which a palette reaches some targets with a mixer of
// those tubes alone, drawn and searched from nothing at verdict effort.
func holdsAfresh(t *testing.T, p *Problem, ids []string, targets []Holding, draws int) (whole int, each []int) {
	t.Helper()
	var tubes []catalog.Tube
	for _, tube := range p.Tubes {
		if slices.Contains(ids, tube.ID) {
			tubes = append(tubes, tube)
		}
	}
	boxes := catalog.NewBoxes(tubes)
	each = make([]int, len(targets))
	for n := 1; n <= draws; n++ {
		paints := make([]film.Paint, len(tubes))
		boxes.Draw(n, paints)
		m, err := gamut.NewMixer(paints, gamut.Options{Surface: p.Surface, Light: p.Light, PaintsPerMix: p.PaintsPerMix})
		if err != nil {
			t.Fatal(err)
		}
		all := 1
		for i, h := range targets {
			at := slices.IndexFunc(p.Targets, func(x Target) bool { return x.Name == h.Target })
			if _, ok := m.Within(p.Targets[at].Lab, set.Full(m.Len()), p.Targets[at].Tolerance, gamut.Verdict); ok {
				each[i]++
			} else {
				all = 0
			}
		}
		whole += all
	}
	return whole, each
}

// What an answer says of plausible boxes is what mixers of the drawn tubes say, and of
// the palettes listed the surest is no less sure than the one shown. With few paints in
// a mix no search says so.
func TestDoubtIsCountedRight(t *testing.T) {
	const draws = 30
	for _, c := range []struct {
		paints    int
		tolerance float64
	}{{4, 2}, {3, 2.5}, {2, 4}} {
		p := sceneProblem(t, 12, c.tolerance)
		p.MostPalettes, p.MaxPartsTotal, p.PaintsPerMix = 6, 4, c.paints
		s, a := chosen(t, p)
		d, err := s.Doubt(context.Background(), a.Palettes, draws)
		if err != nil {
			t.Fatal(err)
		}
		whole, each := holdsAfresh(t, &p, a.Palettes[0].Tubes, d.Targets, draws)
		if d.Draws != draws || d.Holds != whole {
			t.Errorf("%d paints: holds in %d of %d, afresh in %d", c.paints, d.Holds, d.Draws, whole)
		}
		missed := 0
		for i, h := range d.Targets {
			if h.Holds != each[i] {
				t.Errorf("%d paints: %s holds in %d, afresh in %d", c.paints, h.Target, h.Holds, each[i])
			}
			missed += draws - h.Holds
		}
		if missed < 10 {
			t.Errorf("%d paints: colours are missed %d times: the case is too tame", c.paints, missed)
		}
		if surest, _ := holdsAfresh(t, &p, d.Surest, d.Targets, draws); d.Best != surest || d.Best < d.Holds {
			t.Errorf("%d paints: the surest holds in %d, afresh in %d, the one shown in %d", c.paints, d.Best, surest, d.Holds)
		}
		shares, err := s.Share(context.Background(), a.Palettes, draws)
		if err != nil {
			t.Fatal(err)
		}
		if shares[0] != d.Holds || slices.Max(shares) != d.Best {
			t.Errorf("%d paints: shares %v, the palette shown %d, the surest %d", c.paints, shares, d.Holds, d.Best)
		}
		for _, glance := range []boxes.Glance{{}, {Holds: shares[0], Boxes: draws}, {Holds: 1000, Boxes: draws + 1}} {
			a.Palettes[0].glance = glance
			brief, err := s.DoubtBriefly(context.Background(), a.Palettes, draws)
			if d.Targets = []Holding{}; err != nil || !reflect.DeepEqual(brief, d) {
				t.Errorf("%d paints: briefly %+v, %v, else %+v", c.paints, brief, err, d)
			}
		}
	}
}

// A palette of tubes known as well as before holds in as many boxes, of tubes known
// perfectly in all.
func TestShareOfKnownTubes(t *testing.T) {
	const draws = 20
	p := sceneProblem(t, 10, 2)
	p.MostPalettes, p.MaxPartsTotal = 1, 4
	s, a := chosen(t, p)
	before, err := s.Share(context.Background(), a.Palettes, draws)
	if err != nil {
		t.Fatal(err)
	}
	if before[0] == draws {
		t.Error("the palette holds in every box: the case is too tame")
	}
	known := slices.Clone(p.Tubes)
	for _, want := range []int{before[0], draws} {
		got, err := s.ShareKnown(context.Background(), &a.Palettes[0], known, draws)
		if err != nil || got != want {
			t.Errorf("holds in %d of %d boxes, %v, want %d", got, draws, err, want)
		}
		for i := range known {
			known[i].Doubt, known[i].Parts = doubt.Spread{}, nil
		}
	}
}

// A need is said not to hold only in boxes in which the other tubes reach the target.
func TestSparedNeeds(t *testing.T) {
	const draws = 30
	p := sceneProblem(t, 10, 2)
	p.MostPalettes, p.MaxPartsTotal = 1, 4
	s, a := chosen(t, p)
	spared, err := s.Spared(context.Background(), p.Limits, a.Needs, draws)
	if err != nil {
		t.Fatal(err)
	}
	some := 0
	for i, n := range a.Needs {
		var others []string
		for _, tube := range p.Tubes {
			if !slices.Contains(n.OneOf, tube.ID) {
				others = append(others, tube.ID)
			}
		}
		if most, _ := holdsAfresh(t, &p, others, []Holding{{Target: n.Target}}, draws); spared[i] > most {
			t.Errorf("%s is reached in %d boxes without %v, afresh in %d", n.Target, spared[i], n.OneOf, most)
		}
		some += spared[i]
	}
	if some == 0 {
		t.Error("every need holds in every box: the case is too tame")
	}
}

// The surest of the smallest palettes is no less sure than any listed, and as small.
func TestPreferHolds(t *testing.T) {
	p := smallProblem(t, 811, 12)
	p.MaxPartsTotal = 4
	s, err := NewSession(p)
	if err != nil {
		t.Fatal(err)
	}
	usual, err := s.Choose(context.Background(), p.Limits, Accuracy, nil)
	if err != nil {
		t.Fatal(err)
	}
	sure, err := s.Choose(context.Background(), p.Limits, Holds, nil)
	if err != nil {
		t.Fatal(err)
	}
	of := func(a *Answer) []int {
		shares, err := s.Share(context.Background(), a.Palettes, UsualDraws)
		if err != nil {
			t.Fatal(err)
		}
		return shares
	}
	if usual.Capped || len(usual.Palettes) < 3 {
		t.Fatalf("%d palettes: not all are listed, or too few", len(usual.Palettes))
	}
	if got, want := of(sure)[0], slices.Max(of(usual)); got != want || sure.Minimum != usual.Minimum {
		t.Errorf("%v holds in %d, %+v; one of all in %d", sure.Palettes[0].Tubes, got, sure.Minimum, want)
	}
}

// More asked never takes fewer tubes, more tubes never hold in fewer boxes, and the
// number of workers changes nothing.
func TestSureIsMonotoneAndSteady(t *testing.T) {
	const draws = 40
	p := smallProblem(t, 707, 10)
	p.MaxPartsTotal = 4
	for i := range p.Targets {
		p.Targets[i].Tolerance += 3
	}
	ask := func(percent float64, most, workers int) (*Answer, *Sure) {
		old := runtime.GOMAXPROCS(workers)
		defer runtime.GOMAXPROCS(old)
		s, err := NewSession(p)
		if err != nil {
			t.Fatal(err)
		}
		a, sure, err := s.ChooseSure(context.Background(), Limits{MaxTubes: most}, p.Prefer, percent, draws, nil)
		if err != nil {
			t.Fatal(err)
		}
		return a, sure
	}
	last := 0
	for _, percent := range []float64{30, 60, 80, 90, 100} {
		a, _ := ask(percent, 0, 2)
		if a.Minimum.Tubes < last {
			t.Errorf("%v per cent take %d tubes, less take %d", percent, a.Minimum.Tubes, last)
		}
		last = a.Minimum.Tubes
	}
	held := 0
	for most := 1; most <= 5; most++ {
		_, sure := ask(100, most, 2)
		if sure.Holds < held {
			t.Errorf("%d tubes hold in %d, fewer in %d", most, sure.Holds, held)
		}
		held = sure.Holds
	}
	var first string
	for _, workers := range []int{1, 4, 2} {
		a, sure := ask(80, 0, workers)
		data, err := json.Marshal([]any{a.Palettes, a.Needs, sure})
		if err != nil {
			t.Fatal(err)
		}
		if first == "" {
			first = string(data)
		}
		if string(data) != first {
			t.Errorf("%d workers: %s, one %s", workers, data, first)
		}
	}
}
