package catalog

import (
	"errors"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// spellings are ways in which people write a name.
func spellings(name string) []string {
	return []string{
		name, strings.ToLower(name), strings.ToUpper(name), "  " + name + " ", strings.ReplaceAll(name, " ", "  "),
		strings.ReplaceAll(name, " ", "-"), strings.ReplaceAll(name, " ", "_"), strings.ReplaceAll(name, " ", ""),
		strings.ReplaceAll(name, "'", ""), strings.ReplaceAll(name, "'", "’"), strings.ReplaceAll(name, "grey", "gray"),
	}
}

func TestCommonNames(t *testing.T) {
	c, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	for _, tube := range c.Tubes() {
		for _, name := range []string{tube.Name, tube.ID, strings.ReplaceAll(tube.ID, "-", " ")} {
			for _, s := range spellings(name) {
				if got, err := c.Get(s); err != nil || got.ID != tube.ID {
					t.Errorf("%q: %q, %v; want %s", s, got.ID, err, tube.ID)
				}
			}
		}
	}
}

// What painters call tubes (common practice, no source).
func TestTradeNames(t *testing.T) {
	c, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	for words, want := range map[string]string{
		"ultramarine": "ultramarine-blue", "French Ultramarine": "ultramarine-blue", "ochre": "yellow-ochre", "cerulean": "cerulean-blue",
		"titanium": "titanium-white", "zinc": "zinc-white", "flake white": "lead-white", "alizarin": "alizarin-crimson", "prussian": "prussian-blue",
		"bone black": "ivory-black", "aureolin": "cobalt-yellow", "sap green": "sap-green", "payne's gray": "paynes-grey", "Terre Verte": "green-earth",
		"cad red light": "cadmium-red-light", "burnt orange": "quinacridone-burnt-orange", "hansa yellow": "hansa-yellow-medium",
		"PB29": "ultramarine-blue", "pg 18": "viridian", "magenta": "quinacridone-magenta", "ult blue": "ultramarine-blue",
	} {
		if got, err := c.Get(words); err != nil || got.ID != want {
			t.Errorf("%q: %q, %v; want %s", words, got.ID, err, want)
		}
	}
	for words, want := range map[string][]string{
		"sienna": {"raw-sienna", "burnt-sienna"}, "phthalo blue": {"phthalo-blue-red-shade", "phthalo-blue-green-shade"},
		"PB15": {"phthalo-blue-red-shade", "phthalo-blue-green-shade"}, "cadmium yellow": {"cadmium-yellow-light", "cadmium-yellow-medium", "cadmium-yellow-deep"},
		"white": {"titanium-white", "zinc-white", "lead-white", "titanium-zinc-white"},
	} {
		_, err := c.Get(words)
		var unknown *UnknownTube
		if !errors.As(err, &unknown) || !unknown.Several || !slices.Equal(unknown.Close, want) {
			t.Errorf("%q: %v; want all of %v", words, err, want)
		}
	}
	for _, words := range []string{"", " ", "-", "mud brown", "zzzzzzzz", "PB999", "py18"} {
		if got, err := c.Get(words); err == nil {
			t.Errorf("%q is taken for %s", words, got.ID)
		}
	}
	for key := range usual {
		if key != squeeze(key) {
			t.Errorf("%q can never be found", key)
		}
	}
}

func TestNamesOneAfterTheOther(t *testing.T) {
	c, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	for words, want := range map[string]string{
		"burnt sienna ultramarine":        "burnt-sienna ultramarine-blue",
		"zinc titanium":                   "zinc-white titanium-white",
		"Titanium zinc White viridian":    "titanium-zinc-white viridian",
		"zinc cad red light yellow ochre": "zinc-white cadmium-red-light yellow-ochre",
		"phthalo blue (red shade) pg18":   "phthalo-blue-red-shade viridian",
		"ultramarine violet":              "ultramarine-violet",
		"":                                "",
	} {
		tubes, err := c.GetEach(strings.Fields(words))
		var ids []string
		for _, t := range tubes {
			ids = append(ids, t.ID)
		}
		if got := strings.Join(ids, " "); err != nil || got != want {
			t.Errorf("%q: %q, %v; want %q", words, got, err, want)
		}
	}
	for _, words := range []string{"sienna", "viridian mud"} {
		if tubes, err := c.GetEach(strings.Fields(words)); err == nil {
			t.Errorf("%q: %d tubes", words, len(tubes))
		}
	}
}

// A name with one letter too many, too few, wrong, or exchanged with the next
// names its tube, or suggests it; it never names another.
func TestSlipsOfALetter(t *testing.T) {
	c, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(20, 1))
	tubes := c.Tubes()
	resolved, suggested := 0, 0
	for range 200 {
		tube := tubes[r.IntN(len(tubes))]
		name, _, _ := strings.Cut(tube.Name, " (")
		if first, err := c.Get(name); err != nil || first.ID != tube.ID || r.IntN(2) == 0 {
			name = tube.ID // the name alone may be another tube's
		}
		typed := slip(r, name)
		got, err := c.Get(typed)
		var unknown *UnknownTube
		switch {
		case err == nil && got.ID == tube.ID:
			resolved++
		case errors.As(err, &unknown) && slices.Contains(unknown.Close, tube.ID):
			suggested++
		default:
			t.Errorf("%q for %q: %q, %v", typed, name, got.ID, err)
		}
	}
	t.Logf("of 200 slips %d were understood, %d suggested the right tube", resolved, suggested)
}

func slip(r *rand.Rand, name string) string {
	b := []byte(name)
	i := r.IntN(len(b) - 1)
	letter := byte('a' + r.IntN(26))
	switch r.IntN(4) {
	case 0:
		b = slices.Insert(b, i, letter)
	case 1:
		b = slices.Delete(b, i, i+1)
	case 2:
		b[i] = letter
	default:
		b[i], b[i+1] = b[i+1], b[i]
	}
	return string(b)
}
