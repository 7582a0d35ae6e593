package report

import "testing"

func TestCapital(t *testing.T) {
	for text, want := range map[string]string{"too dark": "Too dark", "ölgrün": "Ölgrün", "ΔE00 4.17": "ΔE00 4.17", "": ""} {
		if got := capital(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
