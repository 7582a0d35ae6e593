package catalog

import "testing"

func TestInSentence(t *testing.T) {
	for name, want := range map[string]string{
		"Yellow ochre": "yellow ochre", "Prussian blue": "Prussian blue", "Mars black": "Mars black",
		"Ölgrün": "ölgrün", "": "",
	} {
		if got := InSentence(name); got != want {
			t.Errorf("%q: %q, want %q", name, got, want)
		}
	}
}
