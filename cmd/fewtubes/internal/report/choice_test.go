package report

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/report/piles"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/gamut/colour"
	"fewtubes/solver"
)

// The keys of the documents are a promise to other programs.
func TestChoiceKeys(t *testing.T) {
	data, err := shown.JSON(fixture())
	if err != nil {
		t.Fatal(err)
	}
	var doc map[string]any
	if err := json.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	has := func(where string, v any, keys ...string) {
		t.Helper()
		m, ok := v.(map[string]any)
		if !ok {
			t.Fatalf("%s is %T", where, v)
		}
		for _, k := range keys {
			if _, ok := m[k]; !ok {
				t.Errorf("%s has no %q", where, k)
			}
		}
	}
	first := func(v any, key string) any { return v.(map[string]any)[key].([]any)[0] }
	has("document", doc, "schema", "status", "tolerance", "minimum", "palettes", "needs", "missed", "conflict")
	has("minimum", doc["minimum"], "tubes", "proof")
	has("palette", first(doc, "palettes"), "tubes", "price", "worst_de", "worst_de_all", "mean_de", "targets")
	has("target", first(first(doc, "palettes"), "targets"), "name", "lab", "mix_lab", "de", "reached", "shares", "parts", "parts_de")
	has("need", first(doc, "needs"), "target", "one_of")
	has("miss", first(doc, "missed"), "target", "best_de", "words")
}

// An answer without any palette still has lists where lists are promised.
func TestEmptyAnswer(t *testing.T) {
	p := fixtureProblem()
	c := NewChoice(Scene{}, p, &solver.Answer{Status: solver.SomeMissed, Conflict: []solver.Limit{{Kind: solver.NeverTube, Names: []string{"white"}}, {Kind: solver.KeepTube, Names: []string{"white"}}}})
	data, err := shown.JSON(c)
	if err != nil || strings.Contains(string(data), "null") {
		t.Errorf("%v in %s", err, data)
	}
	if text := c.Text(terminal.Style{Width: 80}); !strings.Contains(text, "never white") {
		t.Errorf("the conflict is not in %q", text)
	}
	if page, err := c.HTML(); err != nil || !strings.Contains(string(page), "never white") {
		t.Errorf("the conflict is not on the page: %v", err)
	}
}

// Every difference and price of the JSON stands in the text and on the page
// with the same digits.
func TestSameNumberEverywhere(t *testing.T) {
	c := fixture()
	c.Palettes = c.Palettes[:1] // the mixes of the others are in the JSON only
	c.Teach(fixtureLearned(c))
	data, err := shown.JSON(c)
	if err != nil {
		t.Fatal(err)
	}
	page, err := c.HTML()
	if err != nil {
		t.Fatal(err)
	}
	text := c.Text(terminal.Style{Width: 100, More: true, Cautions: true})
	numbers := regexp.MustCompile(`"(?:de|parts_de|worst_de|mean_de|price|best_de|help_de|tolerance)": ([0-9.]+)`).FindAllStringSubmatch(string(data), -1)
	if len(numbers) < 20 {
		t.Fatalf("only %d numbers in the JSON", len(numbers))
	}
	for _, n := range numbers {
		inText := strings.Contains(text, n[1])
		if n[1] == "11.23" || n[1] == "9.10" {
			inText = true // the text keeps the needs short
		}
		if !inText || !strings.Contains(string(page), n[1]) {
			t.Errorf("%s: in text %v, on page %v", n[0], inText, strings.Contains(string(page), n[1]))
		}
	}
}

func decode(t *testing.T, document, into any) {
	t.Helper()
	data, err := shown.JSON(document)
	if err == nil {
		err = json.Unmarshal(data, into)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// fixtureLearned is invented but for the drifts.
func fixtureLearned(c *Choice) *Learned {
	from := c.Palettes[0].Targets[0].MixLab.Colour()
	drift := func(name string, b float64) solver.Drift {
		to := colour.Lab{L: from.L, A: from.A, B: from.B + b}
		return solver.Drift{Target: name, From: from, To: to, Miss: colour.Direction(to, from)}
	}
	return &Learned{
		Why:      []solver.Reason{{Tube: "deep-blue", Targets: []solver.Loss{{Target: "ebb channel", BestDE: 17.315}}}, {Tube: "cool-green"}},
		Disjoint: []solver.Need{{Target: "samphire", OneOf: []string{"warm-yellow"}, BestDE: 11.234}, {Target: "ebb channel", OneOf: []string{"deep-blue", "cool-green"}, BestDE: 9.1}},
		Swaps:    []solver.Swap{{Tube: "earth-red", StandIns: []solver.StandIn{{Tube: "cool-green", WorstDE: 5.437, MeanDE: 2.218, Price: 7315}}}, {Tube: "deep-blue"}},
		Additions: []solver.Additions{
			{Tubes: 1, Sets: []solver.Addition{{Tubes: []string{"cool-green"}, Reached: []string{"buoy"}, MeanDE: 3.1, Price: 2140}}},
			{Tubes: 2, Sets: []solver.Addition{
				{Tubes: []string{"cool-green", "deep-blue"}, Reached: []string{"buoy", "ebb channel"}, MeanDE: 2.91, Price: 3290},
				{Tubes: []string{"earth-red", "deep-blue"}, Reached: []string{"buoy", "low cloud"}, MeanDE: 2.96, Price: 1930},
			}, Capped: true},
		},
		Spare:       &solver.Spare{Tube: "earth-red", Lost: []solver.Loss{{Target: "wet mud", BestDE: 8.766}}, MeanDE: 4.4},
		SecondLight: "A",
		Drifts:      []solver.Drift{drift("wet mud", 9), drift("low cloud", -6)},
		Apart:       [2]int{0, 1},
	}
}

func TestPageStandsAlone(t *testing.T) {
	page, err := fixture().HTML()
	if err != nil {
		t.Fatal(err)
	}
	text := string(page)
	for _, outside := range []string{"http:", "https:", "src=", "@import", "url(", "<script", "ZgotmplZ"} {
		if strings.Contains(text, outside) {
			t.Errorf("the page holds %q", outside)
		}
	}
	if strings.Contains(text, "<&>") || !strings.Contains(text, "far saltings &lt;&amp;&gt;") {
		t.Error("a name is not escaped")
	}
}

// What is to be minded is told of the recipe shown: its tubes, with their shares in it.
func TestMindsAndLeans(t *testing.T) {
	c := fixture()
	show := func(target string, de shown.Hundredths, made ...hand.Part) {
		for i := range c.Palettes[0].Targets {
			if r := &c.Palettes[0].Targets[i]; r.Name == target {
				r.Reached, r.LetDown, r.byHand = true, piles.NewLetDown(hand.Recipe{Parts: made}, de), nil
				r.Shares = shown.Shares{{ID: "titanium-white", Fraction: 0.99}, {ID: "cool-green", Fraction: 0.01}}
			}
		}
	}
	white := hand.Part{Tube: "titanium-white", Quarters: 76}
	show("wet mud", 1, white, hand.Part{Tube: "deep-blue", In: "titanium-white", Times: 1, Ratio: 10, Quarters: 4})
	show("samphire", 1, white, hand.Part{Tube: "cool-green", Quarters: 4})
	show("low cloud", 9, white) // too coarse, so that its volumes are shown
	c.Teach(&Learned{Fragile: []solver.Fragile{
		{Target: "wet mud", Why: solver.OnAHair, By: 0.25},
		{Target: "wet mud", Why: solver.OnATrace, Tube: "deep-blue", By: 0.0199},
		{Target: "wet mud", Why: solver.OnATrace, Tube: "warm-yellow", By: 0.01},
		{Target: "wet mud", Why: solver.OnAnEstimate, Tube: "cool-green", By: 0.1},
		{Target: "samphire", Why: solver.OnAnEstimate, Tube: "cool-green", By: 0.01},
		{Target: "samphire", Why: solver.OnATrace, Tube: "cool-green", By: 0.01},
		{Target: "low cloud", Why: solver.OnAnEstimate, Tube: "cool-green", By: 0.01},
		{Target: "low cloud", Why: solver.OnATrace, Tube: "cool-green", By: 0.01},
	}})
	var minds []string
	for _, m := range c.Minds() {
		minds = append(minds, m.Sentence())
	}
	// One part in eleven of one part in twenty is 0.45 %.
	want := "wet mud: within reach by only 0.25, 0.45\u00a0% of deep blue|low cloud: 1.00\u00a0% of cool green"
	if got := strings.Join(minds, "|"); got != want {
		t.Errorf("minds %q, want %q", got, want)
	}
	leans := c.Leans()
	if len(leans) != 1 || leans[0].Tube != "cool green" || strings.Join(leans[0].Targets, "|") != "samphire|low cloud" {
		t.Errorf("leans %+v", leans)
	}
}

// A need that many tubes meet is not a list of them all.
func TestNeedSentence(t *testing.T) {
	c := fixture()
	ids := strings.Fields("deep-blue cool-green" + strings.Repeat(" warm-yellow", 12))
	for n, want := range map[int]string{
		1:  "sky needs deep blue",
		2:  "sky needs one of: deep blue, cool green",
		13: "sky needs one of: deep blue, cool green" + strings.Repeat(", warm yellow", 11),
		14: "sky needs one of: deep blue, cool green" + strings.Repeat(", warm yellow", 10) + ", and 2 more",
	} {
		if got := c.NeedSentence(Need{Target: "sky", OneOf: ids[:n]}); got != want {
			t.Errorf("%d: %q, want %q", n, got, want)
		}
	}
}

func TestShownDE(t *testing.T) {
	for _, c := range []struct {
		de, tol float64
		reached bool
		want    string
	}{
		{1.994, 2, true, "1.99"},
		{2, 2, true, "2.00"},
		{2.001, 2, false, "2.01"}, // not 2.00, which would read as reached
		{2.004, 2.003, false, "2.01"},
		{2.006, 2, false, "2.01"},
		{-0.0001, 2, true, "0.00"},
	} {
		if got := shown.DE(c.de, c.tol, c.reached).String(); got != c.want {
			t.Errorf("shownDE(%v, %v, %v) = %s, want %s", c.de, c.tol, c.reached, got, c.want)
		}
	}
}

func TestTextKeepsTheWidth(t *testing.T) {
	for _, width := range []int{60, 80, 120} {
		for _, more := range []bool{false, true} {
			for line := range strings.SplitSeq(fixture().Text(terminal.Style{Width: width, Swatches: true, More: more}), "\n") {
				if n := len([]rune(terminal.Visible(line))); n > width {
					t.Errorf("width %d: %d columns in %q", width, n, line)
				}
			}
		}
	}
}

func TestSwatchesOnlyWhereAsked(t *testing.T) {
	c := fixture()
	if strings.Contains(c.Text(terminal.Style{Width: 80}), "\x1b") {
		t.Error("colour codes without being asked")
	}
	if text := c.Text(terminal.Style{Width: 80, Swatches: true}); !strings.Contains(text, "\x1b[48;2;") {
		t.Errorf("no swatch in %q", text)
	}
}

// Where every colour is beyond all tubes, nothing is said that compares palettes.
func TestNothingReachable(t *testing.T) {
	c := fixture()
	c.Teach(fixtureLearned(c))
	c.Missed = nil
	for i := range c.Palettes[0].Targets {
		target := &c.Palettes[0].Targets[i]
		target.Reached = false
		c.Missed = append(c.Missed, Miss{Target: target.Name, BestDE: 3000, Words: colour.Miss{}.String(), Unreachable: true})
	}
	text := c.Text(terminal.Style{Width: 1000, More: true})
	for _, want := range []string{"None of the 7 colours can be reached, not even with all the allowed tubes together.", "no palette is better here than another"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in %s", want, text)
		}
	}
	for _, no := range []string{"Fewer will not do", "What could stand in", "What each tube is for", "of those the allowed tubes can reach"} {
		if strings.Contains(text, no) {
			t.Errorf("says %q", no)
		}
	}
}
