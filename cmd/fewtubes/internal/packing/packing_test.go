package packing

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut/bounded"
	"fewtubes/solver"
	"fmt"

	"pgregory.net/rapid"
)

// marsh is the scene of the worked example in the package comment; all of it
// invented.
func marsh() (*solver.Problem, *solver.Palette) {
	p := &solver.Problem{
		Tubes: []catalog.Tube{
			{ID: "white", Name: "White", Pigments: []string{"PW4"}, Density: 2.1, Drying: "slow", Hazards: []string{"zinc"}},
			{ID: "yellow", Name: "Yellow", Density: 1.2, Drying: "medium"},
			{ID: "sienna", Name: "Sienna", Density: 1.5, Drying: "fast", Caution: "Keep off the dust."},
			{ID: "blue", Name: "Blue", Density: 1.4, Drying: "fast"},
			{ID: "red", Name: "Red"},
			{ID: "green", Name: "Green"},
		},
		Targets: []solver.Target{
			{Name: "sky", Area: 50, Tolerance: 3}, {Name: "marsh", Area: 30, Tolerance: 3}, {Name: "mud", Area: 20, Tolerance: 3},
		},
	}
	palette := &solver.Palette{
		Tubes: []string{"white", "yellow", "sienna", "blue", "red"},
		Targets: []solver.Outcome{
			{Target: "sky", Parts: []solver.Part{{ID: "white", Parts: 3}, {ID: "blue", Parts: 1}}, Reached: true},
			{Target: "marsh", Parts: []solver.Part{{ID: "white", Parts: 2}, {ID: "yellow", Parts: 1}, {ID: "blue", Parts: 1}}, Reached: true},
			{Target: "mud", Parts: []solver.Part{{ID: "white", Parts: 1}, {ID: "sienna", Parts: 2}, {ID: "blue", Parts: 1}}, Reached: false},
		},
	}
	return p, palette
}

var board = Job{WidthCM: 30, HeightCM: 40, Coats: 1, FilmMM: 0.2, Waste: 0.3}

// The worked example, computed by hand in the package comment.
func TestWorkedExample(t *testing.T) {
	p, palette := marsh()
	plan, err := New("Marsh", board, p, palette)
	if err != nil {
		t.Fatal(err)
	}
	if plan.LaidML != 24 || plan.TotalML != 31.2 || plan.TotalG != 152 {
		t.Errorf("%v ml laid, %v ml squeezed, %v g", plan.LaidML, plan.TotalML, plan.TotalG)
	}
	want := map[string]float64{"white": 17.94, "blue": 7.80, "yellow": 2.34, "sienna": 3.12}
	if len(plan.Tubes) != len(want) {
		t.Errorf("%d tubes", len(plan.Tubes))
	}
	for _, tube := range plan.Tubes {
		if math.Abs(tube.ML-want[tube.ID]) > 0.05 {
			t.Errorf("%s: %v ml, by hand %v", tube.ID, tube.ML, want[tube.ID])
		}
		if len(tube.Take) != 1 || tube.Take[0] != (Take{1, 20}) {
			t.Errorf("%s: take %v", tube.ID, tube.Take)
		}
	}
	if got := strings.Join(plan.Unused, ","); got != "red" {
		t.Errorf("unused: %s", got)
	}
	if got := strings.Join(plan.Missed, ","); got != "mud" {
		t.Errorf("missed: %s", got)
	}
}

func TestAdvice(t *testing.T) {
	p, palette := marsh()
	plan, err := New("Marsh", board, p, palette)
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Order) != 3 || strings.Join(plan.Order[0].Tubes, ",") != "sienna,blue" || plan.Order[2].Tubes[0] != "white" {
		t.Errorf("drying order %v", plan.Order)
	}
	text := plan.Text(80)
	for _, want := range []string{"White: contains zinc. Zinc white grows brittle", "Keep off the dust.", "the carrier decides", "common practice, no source", "may stay at home: red", "being out of reach: mud"} {
		if !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
			t.Errorf("the plan does not say %q:\n%s", want, text)
		}
	}
	for _, line := range strings.Split(text, "\n") {
		if len(line) > 80 {
			t.Errorf("a line of %d columns: %s", len(line), line)
		}
	}
	var back map[string]any
	data, err := json.Marshal(plan)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, &back); err != nil || back["tubes"].([]any)[0].(map[string]any)["ml"] != 17.9 {
		t.Errorf("%v, %s", err, data)
	}
}

// A trace of a tube is packed, and its volume is never shown as none.
func TestTracesAreShown(t *testing.T) {
	p, palette := marsh()
	plan, err := New("Marsh", Job{WidthCM: 1, HeightCM: 1, Coats: 1, FilmMM: 0.1}, p, palette)
	if err != nil {
		t.Fatal(err)
	}
	for _, tube := range plan.Tubes {
		if tube.ML != 0.1 || len(tube.Take) != 1 || tube.Take[0] != (Take{1, 20}) {
			t.Errorf("%s: %v ml, take %v", tube.ID, tube.ML, tube.Take)
		}
	}
}

func TestTake(t *testing.T) {
	for _, c := range []struct {
		ml   float64
		want string
	}{
		{0.01, "1 x 20 ml"}, {19, "1 x 20 ml"}, {19.1, "1 x 40 ml"}, {57, "1 x 60 ml"}, {57.1, "1 x 120 ml"},
		{190, "1 x 200 ml"}, {190.5, "1 x 200 ml + 1 x 20 ml"}, {379, "2 x 200 ml"}, {381, "2 x 200 ml + 1 x 20 ml"},
	} {
		if got := taken(take(c.ml)); got != c.want {
			t.Errorf("%v ml: %s, want %s", c.ml, got, c.want)
		}
	}
}

// What is taken holds enough, and the next smaller choice would not.
func TestTakeIsEnough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ml := rapid.Float64Range(0.001, 5000).Draw(t, "ml")
		held, last := 0.0, 0.0
		for _, k := range take(ml) {
			held += usable * float64(k.Count) * k.SizeML
			last = usable * k.SizeML
		}
		if held < ml-1e-6 {
			t.Fatalf("%v ml: %s holds %v", ml, taken(take(ml)), held)
		}
		if held-last >= ml {
			t.Fatalf("%v ml: %s is a tube too many", ml, taken(take(ml)))
		}
	})
}

// Twice the board, or twice the coats, takes twice the paint; areas count only
// by their ratios.
func TestVolumesScale(t *testing.T) {
	p, palette := marsh()
	once := volumes(board.SqueezedML(), p.Targets, palette.Targets)
	twice := board
	twice.Coats = 2
	for i := range p.Targets {
		p.Targets[i].Area *= 7
	}
	doubled := volumes(twice.SqueezedML(), p.Targets, palette.Targets)
	sum := 0.0
	for id, ml := range once {
		if math.Abs(doubled[id]-2*ml) > 1e-9 {
			t.Errorf("%s: %v once, %v twice", id, ml, doubled[id])
		}
		sum += ml
	}
	if math.Abs(sum-board.SqueezedML()) > 1e-9 {
		t.Errorf("%v ml shared out of %v", sum, board.SqueezedML())
	}
	for i := range p.Targets {
		p.Targets[i].Area = 0
	}
	for id, ml := range volumes(30, p.Targets, palette.Targets) {
		if id == "yellow" && math.Abs(ml-2.5) > 1e-9 { // a quarter of a third of 30
			t.Errorf("without areas: %v ml of yellow", ml)
		}
	}
}

func TestParseSize(t *testing.T) {
	for text, want := range map[string][2]float64{
		"30x40cm": {30, 40}, "30 x 40": {30, 40}, "300×400 mm": {30, 40}, "12x16in": {30.48, 40.64}, "0.3x0.4m": {30, 40}, "30X40CM": {30, 40},
	} {
		w, h, err := ParseSize(text)
		if err != nil || math.Abs(w-want[0]) > 1e-9 || math.Abs(h-want[1]) > 1e-9 {
			t.Errorf("%q: %v x %v, %v", text, w, h, err)
		}
	}
	for _, text := range []string{"", "30", "30x", "x40", "-30x40", "0x40", "30x40km", "1e9x3", "30x40x50", "99999x40", "nanxinf", strings.Repeat("9", 400) + "x4"} {
		if _, _, err := ParseSize(text); err == nil || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func FuzzParseSize(f *testing.F) {
	for _, s := range []string{"30x40cm", "12x16in", "300×400mm", "1.5x.5m", "0x0", "30 x 40 x"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		var w, h float64
		var err error
		bounded.Work(t, len(s), func() { w, h, err = ParseSize(s) })
		if err != nil {
			bounded.Refusal(t, err, "size ", "; ")
		} else if again, _, err := ParseSize(fmt.Sprintf("%.6fx%.6fcm", w, h)); err != nil || math.Abs(again-w) > 1e-5 {
			t.Fatalf("%q is %v cm wide, read again %v, %v", s, w, again, err)
		}
		if err == nil && !(w >= 1 && w <= mostSideCM && h >= 1 && h <= mostSideCM) {
			t.Fatalf("%q is %v x %v", s, w, h)
		}
	})
}

func TestJobCheck(t *testing.T) {
	for _, change := range []func(*Job){
		func(j *Job) { j.WidthCM = 0 }, func(j *Job) { j.HeightCM = math.NaN() }, func(j *Job) { j.Coats = 0 }, func(j *Job) { j.Coats = 21 },
		func(j *Job) { j.FilmMM = 0 }, func(j *Job) { j.FilmMM = math.Inf(1) }, func(j *Job) { j.Waste = -0.1 }, func(j *Job) { j.Waste = math.NaN() },
	} {
		j := board
		change(&j)
		p, palette := marsh()
		if _, err := New("", j, p, palette); err == nil {
			t.Errorf("%+v is taken", j)
		}
	}
}

// How the tubes built in are said to dry (common practice, no source): umbers
// and Prussian blue fast, alizarin and ivory black slow.
func TestBuiltinDrying(t *testing.T) {
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	for id, want := range map[string]string{
		"raw-umber": "fast", "burnt-umber": "fast", "prussian-blue": "fast", "alizarin-crimson": "slow", "ivory-black": "slow",
	} {
		if tube, err := all.Get(id); err != nil || tube.Drying != want {
			t.Errorf("%s dries %q, want %q (%v)", id, tube.Drying, want, err)
		}
	}
}
