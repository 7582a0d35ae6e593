package catalog

import (
	"errors"
	"slices"
	"testing"
)

func builtinTubes(t testing.TB) *Catalogue {
	t.Helper()
	c, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestUnknownTubeSuggests(t *testing.T) {
	c := builtinTubes(t)
	for typed, want := range map[string]string{
		"ultramarine":      "ultramarine-blue",
		"Titanium White":   "titanium-white",
		"colbalt-blue":     "cobalt-blue",
		"phthalo-green":    "phthalo-green-blue-shade",
		"quinacridone_red": "quinacridone-red",
	} {
		_, err := c.Get(typed)
		var unknown *UnknownTube
		if !errors.As(err, &unknown) || !slices.Contains(unknown.Close, want) {
			t.Errorf("%q: %v, want %s among the suggestions", typed, err, want)
		}
	}
	if _, err := c.Get("zzzzzzzz"); err == nil || len(err.(*UnknownTube).Close) != 0 {
		t.Errorf("nonsense: %v", err)
	}
}
