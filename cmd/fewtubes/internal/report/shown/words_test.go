package shown

import "testing"

func TestCapital(t *testing.T) {
	for text, want := range map[string]string{"too dark": "Too dark", "ölgrün": "Ölgrün", "ΔE00 4.17": "ΔE00 4.17", "": ""} {
		if got := Capital(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// Names that hold commas are parted by semicolons.
func TestNamesWithCommas(t *testing.T) {
	plain, commas := []string{"mud", "grass", "sky"}, []string{"samphire, green", "mud", "sky"}
	for got, want := range map[string]string{
		InARow(plain):         "mud, grass, sky",
		InARow(commas):        "samphire, green; mud; sky",
		Listed(plain, "and"):  "mud, grass and sky",
		Listed(commas, "and"): "samphire, green; mud and sky",
		InARow(nil):           "",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
