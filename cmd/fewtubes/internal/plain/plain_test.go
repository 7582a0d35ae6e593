package plain

import "testing"

func TestLine(t *testing.T) {
	for text, want := range map[string]bool{
		"wet mud":               true,
		"Mädesüß 沼, <b>":        true,
		"":                      true,
		"mud\x1b[31m":           false, // ECMA-48 select graphic rendition
		"mud\u009b31m":          false, // its one-character introducer
		"mud\nsand":             false,
		"mud\u2028sand":         false,
		"mud \u202e dum":        false, // right-to-left override
		"tab\tstop":             false,
		"zero\u200dwidth joins": true, // held together, as in emoji
	} {
		if got := Line(text); got != want {
			t.Errorf("%q: %v", text, got)
		}
		if !Line(Clean(text)) || want && Clean(text) != text {
			t.Errorf("%q: cleaned to %q", text, Clean(text))
		}
	}
}
