package piles

import (
	"encoding/json"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/mixing"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// tableDocument is a document of the mixing table in all its forms.
type tableDocument interface {
	Text(terminal.Style) string
	HTML() ([]byte, error)
	Fragment() ([]byte, error)
}

func fixtureTable(t *testing.T) *mixing.Table {
	t.Helper()
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	tubes := builtin.Tubes()
	taken := []string{"titanium-white", "yellow-ochre", "burnt-sienna", "ultramarine-blue", "viridian"}
	tubes = slices.DeleteFunc(tubes, func(t catalog.Tube) bool { return !slices.Contains(taken, t.ID) })
	table, err := mixing.NewTable(tubes, gamut.Options{Surface: film.Dry, Light: colour.D65(), PaintsPerMix: 3})
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// tableDocuments are one of each kind, and a correction that is better made
// afresh.
func tableDocuments(t *testing.T, munsell bool) map[string]tableDocument {
	table := fixtureTable(t)
	have := []mixing.Amount{{ID: "ultramarine-blue", Parts: 3}, {ID: "burnt-sienna", Parts: 1.5}}
	correct := func(want colour.Lab, seen *colour.Lab) *Correction {
		c, err := table.Correct(have, want, seen, tubelist.List(table.Tubes).IDs(), 2)
		if err != nil {
			t.Fatal(err)
		}
		return NewCorrection(table, &c, munsell)
	}
	hue, err := table.ValueString(t.Context(), colour.Lab{L: 48, A: -8, B: 28}, 3, 5, hand.Usual())
	if err != nil {
		t.Fatal(err)
	}
	bases := hand.Usual()
	bases.Bases = []hand.BaseOf{{{Tube: "ultramarine-blue", Parts: 1}, {Tube: "titanium-white", Parts: 3}}}
	based, err := table.ByHand(t.Context(), table.Colour([]mixing.Amount{{ID: "ultramarine-blue", Parts: 1}, {ID: "titanium-white", Parts: 3}, {ID: "burnt-sienna", Parts: 1}}), 3, bases)
	if err != nil {
		t.Fatal(err)
	}
	if based.List[0].Hand.FromBase() == nil {
		t.Fatal("the base does not serve")
	}
	lies := table.Colour(have)
	seen := lies
	seen.L += 2
	return map[string]tableDocument{
		"mix":     NewMixes(table, table.Recipes(colour.Lab{L: 48, A: -8, B: 28}, 20), 3, munsell),
		"pale":    NewMixes(table, table.Recipes(colour.Lab{L: 90, A: -2, B: -3}, 8), 3, munsell),
		"based":   NewMixes(table, based, 3, munsell),
		"string":  NewValueString(table, &hue, 3, munsell),
		"pile":    NewPileLook(table, table.Pile(have, "titanium-white"), munsell),
		"correct": correct(table.Colour(append(have, mixing.Amount{ID: "titanium-white", Parts: 1})), &seen),
		"afresh":  correct(colour.Lab{L: 88, A: 0, B: 20}, nil),
		"keep":    correct(lies, nil),
	}
}

// Every difference, value and chroma of the JSON stands in the text and on the
// page with the same digits.
func TestTableNumbersAgree(t *testing.T) {
	figures := regexp.MustCompile(`"(?:de|lying_de|value|chroma|hue|added)": ([0-9.]+)`)
	aside := regexp.MustCompile(`(?s)"(?:nearest|fresh|start)": \{.*?"(?:recipes|tubes|steps)"`) // shown in part
	for name, d := range tableDocuments(t, false) {
		data, err := shown.JSON(d)
		if err != nil {
			t.Fatal(err)
		}
		page, err := d.HTML()
		if err != nil {
			t.Fatal(err)
		}
		text := d.Text(terminal.Style{Width: 100})
		found := figures.FindAllStringSubmatch(aside.ReplaceAllString(string(data), ""), -1)
		for _, n := range found {
			shown := name != "keep" || !strings.HasPrefix(n[0], `"added"`) // nothing is added
			if strings.Contains(n[0], `"de": 0.00`) {
				shown = false // a mix that hits needs no figure
			}
			if shown && (!strings.Contains(text, n[1]) || !strings.Contains(string(page), n[1])) {
				t.Errorf("%s: %s: in text %v, on page %v", name, n[0], strings.Contains(text, n[1]), strings.Contains(string(page), n[1]))
			}
		}
		if len(found) < 5 || strings.Contains(string(data), "null") || strings.Contains(text, "\x1b") {
			t.Errorf("%s: %d figures in %s", name, len(found), data)
		}
	}
}

// The keys of the documents are a promise to other programs.
func TestTableKeys(t *testing.T) {
	want := map[string][]string{
		"mix":     {"schema", "wanted", "light", "paints_per_mix", "palette", "nearest", "recipes", "tubes"},
		"pile":    {"schema", "light", "parts", "lab", "value", "chroma", "hue", "words", "white", "ladder", "order", "tubes"},
		"correct": {"schema", "have", "predicted", "seen", "want", "lying_de", "add", "added", "lab", "de", "direction", "reached", "afresh", "tubes"},
		"afresh":  {"add", "lab", "de", "afresh", "fresh"},
	}
	docs := tableDocuments(t, false)
	for name, keys := range want {
		data, err := shown.JSON(docs[name])
		if err != nil {
			t.Fatal(err)
		}
		var doc map[string]any
		if err := json.Unmarshal(data, &doc); err != nil {
			t.Fatal(err)
		}
		for _, k := range keys {
			if _, ok := doc[k]; !ok {
				t.Errorf("%s has no %q", name, k)
			}
		}
		if _, ok := doc["munsell"]; ok {
			t.Errorf("%s gives Munsell notation unasked", name)
		}
	}
	var mix struct {
		Recipes []struct {
			Parts  map[string]int
			Shares map[string]float64
			Lab    []float64
			DE     *float64
		}
	}
	data, err := shown.JSON(docs["mix"])
	if err == nil {
		err = json.Unmarshal(data, &mix)
	}
	if err != nil || len(mix.Recipes) == 0 {
		t.Fatalf("%v in %s", err, data)
	}
	for _, r := range mix.Recipes {
		total := 0
		for _, n := range r.Parts {
			total += n
		}
		for id, n := range r.Parts {
			if d := r.Shares[id] - float64(n)/float64(total); d > 1e-6 || d < -1e-6 {
				t.Errorf("%s: share %v for %d of %d parts", id, r.Shares[id], n, total)
			}
		}
		if len(r.Lab) != 3 || r.DE == nil || total < 1 {
			t.Errorf("%+v", r)
		}
	}
}

// A fragment stands in a page of its own and holds no inline style, and every
// form names the adaptation behind the Munsell notation.
func TestTableFragments(t *testing.T) {
	for name, d := range tableDocuments(t, true) {
		part, err := d.Fragment()
		if err != nil {
			t.Fatal(err)
		}
		page, err := d.HTML()
		if err != nil {
			t.Fatal(err)
		}
		if s := string(part); strings.Contains(s, "style=") || strings.Contains(s, "<html") || !strings.Contains(s, `data-fill="#`) {
			t.Errorf("%s: the fragment is %s", name, s)
		}
		for form, text := range map[string]string{"text": d.Text(terminal.Style{Width: 10000}), "page": string(page)} {
			if !strings.Contains(text, "illuminant C to D65 by the linear Bradford transform") || !strings.Contains(text, "Munsell ") {
				t.Errorf("%s: the %s does not name the adaptation", name, form)
			}
			if !strings.Contains(text, "safety data sheet") {
				t.Errorf("%s: the %s gives no caution", name, form)
			}
		}
	}
}

// Every tube that recipes speak of is among the tubes listed, with its cautions:
// also one that paints are let down in and that no recipe takes by itself.
func TestMixesListEveryTube(t *testing.T) {
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	all := builtin.Tubes()
	type wish struct {
		tubes  []catalog.Tube
		target colour.Lab
	}
	known := func(target colour.Lab, ids ...string) wish {
		w := wish{target: target}
		for _, id := range ids {
			w.tubes = append(w.tubes, *tubelist.List(all).Tube(id))
		}
		return w
	}
	wishes := []wish{
		known(colour.Lab{L: 38, A: 34, B: 18}, "zinc-white", "cadmium-red-light", "prussian-blue"),
		known(colour.Lab{L: 62, A: -14, B: 42}, "zinc-white", "hansa-yellow-medium", "phthalo-blue-green-shade", "burnt-umber"),
	}
	random := rand.New(rand.NewPCG(26, 11))
	for range 60 {
		w := wish{target: colour.Lab{L: 30 + 40*random.Float64(), A: 30 * random.NormFloat64(), B: 30 * random.NormFloat64()}}
		for _, i := range random.Perm(len(all))[:3] {
			w.tubes = append(w.tubes, all[i])
		}
		wishes = append(wishes, w)
	}
	aside := 0 // recipes let down in what they do not take
	for _, w := range wishes {
		table, err := mixing.NewTable(w.tubes, gamut.Options{Surface: film.Dry, Light: colour.D65()})
		if err != nil {
			t.Fatal(err)
		}
		m := NewMixes(table, table.Recipes(w.target, 20), 3, false)
		for _, r := range m.Recipes {
			for _, p := range r.Parts {
				if m.used.Tube(p.ID) == nil {
					t.Errorf("%s is not listed", p.ID)
				}
			}
			if r.LetDown == nil {
				continue
			}
			for _, p := range r.LetDown.Piles {
				if m.used.Tube(p.Tube) == nil || p.In != "" && m.used.Tube(p.In) == nil {
					t.Errorf("%s in %q is not listed", p.Tube, p.In)
				}
				takes := func(q mixing.Amount) bool { return q.ID == p.In }
				if p.In != "" && !slices.ContainsFunc(r.Parts, takes) {
					aside++
				}
			}
		}
		if _, err := m.HTML(); err != nil {
			t.Error(err)
		}
	}
	if aside == 0 {
		t.Error("no recipe lets a paint down in one that it does not take")
	}
}

func TestCorrectionVerdicts(t *testing.T) {
	docs := tableDocuments(t, false)
	for name, want := range map[string]string{
		"keep":    "The pile will do as it lies.",
		"afresh":  "Start afresh",
		"correct": "Add this",
	} {
		c := docs[name].(*Correction)
		if !strings.HasPrefix(c.Verdict(), want) || (c.Fresh != nil) != (c.Afresh || !c.Reached) {
			t.Errorf("%s: %s, %+v", name, c.Verdict(), c.Fresh)
		}
	}
}

func TestOrderSentence(t *testing.T) {
	tests := []struct {
		names []string
		pull  float64
		want  string
	}{
		{[]string{"white"}, 0, "Straight from the tube."},
		{[]string{"white", "blue"}, 1, "Start with white, and add blue last, little by little."},
		{[]string{"white", "ochre", "blue"}, 6.42, "Start with white, work in ochre, and add blue last, little by little: it is strong here, a twentieth of the pile more of it moves the colour by ΔE00 6.4."},
		{[]string{"white", "ochre", "red", "blue"}, 0, "Start with white, work in ochre and then red, and add blue last, little by little."},
	}
	for _, x := range tests {
		if got := orderSentence(x.names, x.pull); got != x.want {
			t.Errorf("%s", got)
		}
	}
}
