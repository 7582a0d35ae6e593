package catalog

import (
	"slices"
	"strings"
	"testing"
)

// Pigments are known by their Colour Index generic name. What they are made of is
// common knowledge of the trade (their names in the Colour Index say it); classes of
// lightfastness are those of tubes.csv.
func TestPigment(t *testing.T) {
	c, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]struct {
		hazards, lightfastness, caution string
		unknown                         bool
	}{
		"PY35":   {hazards: "cadmium", lightfastness: "I", caution: "Cadmium"},
		"PY35:1": {hazards: "cadmium", lightfastness: "I", caution: "Cadmium"}, // with barium
		"PY37":   {hazards: "cadmium", caution: "Cadmium"},
		"PO23":   {hazards: "cadmium mercury selenium", caution: "Mercury"},
		"PR104":  {hazards: "lead", caution: "Lead"},
		"PB74":   {hazards: "cobalt", caution: "Cobalt"},
		"PBr7":   {hazards: "manganese silica", lightfastness: "I", caution: "Manganese"}, // siennas and umbers
		"PB15:3": {hazards: "copper", lightfastness: "I", caution: "copper"},
		"PR83":   {lightfastness: "III", caution: "No major hazard"},
		"PW6":    {lightfastness: "I", caution: "No major hazard"}, // though naples-yellow-hue holds it too
		"PW6:1":  {lightfastness: "I", caution: "No major hazard"},
		"PV99":   {unknown: true},
	} {
		got, ok := c.Pigment(name)
		if ok == want.unknown || strings.Join(got.Hazards, " ") != want.hazards || got.Lightfastness != want.lightfastness ||
			!strings.Contains(strings.Join(got.Cautions, " "), want.caution) {
			t.Errorf("%s: %+v, %v", name, got, ok)
		}
	}
	for name, like := range relatives {
		if _, ok := c.Pigment(name); !ok {
			t.Errorf("%s is like %v, which nobody knows", name, like)
		}
	}
}

func TestFactsOfTwoThingsInATube(t *testing.T) {
	plain := Facts{Cautions: []string{"none"}, Lightfastness: "II"}
	bad := Facts{Hazards: []string{"lead"}, Cautions: []string{"lead!"}, Lightfastness: "I"}
	worse := Facts{Hazards: []string{"cadmium", "lead"}, Cautions: []string{"cadmium!", "lead!"}, Lightfastness: "IV"}
	for _, c := range []struct {
		a, b, want Facts
	}{
		{Facts{}, plain, plain},
		{plain, Facts{}, plain},
		{plain, bad, Facts{bad.Hazards, bad.Cautions, "II"}},
		{bad, plain, Facts{bad.Hazards, bad.Cautions, "II"}},
		{bad, worse, Facts{worse.Hazards, []string{"lead!", "cadmium!"}, "IV"}},
	} {
		got := c.a.And(c.b)
		if !slices.Equal(got.Hazards, c.want.Hazards) || !slices.Equal(got.Cautions, c.want.Cautions) || got.Lightfastness != c.want.Lightfastness {
			t.Errorf("%+v and %+v are %+v, not %+v", c.a, c.b, got, c.want)
		}
	}
	order := []string{"", "I", "II", "III", "IV", "V"}
	if !slices.IsSorted(order) {
		t.Error("the classes do not stand in the order of their letters")
	}
}
