package report

import "testing"

func TestCapital(t *testing.T) {
	for text, want := range map[string]string{"too dark": "Too dark", "ölgrün": "Ölgrün", "ΔE00 4.17": "ΔE00 4.17", "": ""} {
		if got := capital(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// Names that hold commas are parted by semicolons.
func TestNamesWithCommas(t *testing.T) {
	plain, commas := []string{"mud", "grass", "sky"}, []string{"samphire, green", "mud", "sky"}
	for got, want := range map[string]string{
		inARow(plain):         "mud, grass, sky",
		inARow(commas):        "samphire, green; mud; sky",
		listed(plain, "and"):  "mud, grass and sky",
		listed(commas, "and"): "samphire, green; mud and sky",
		inARow(nil):           "",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
