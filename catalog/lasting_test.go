package catalog

import (
	"strings"
	"testing"
)

// What fades and what grows brittle is told, of nothing else (lightfastness as usually
// reported; zinc oxide in oil: see zincOxide).
func TestLasting(t *testing.T) {
	for id, want := range map[string]string{
		"alizarin-crimson": "fades", "madder-lake": "fades", "vandyke-brown": "fades", "vermilion": "fades",
		"zinc-white": "grows brittle", "titanium-zinc-white": "grows brittle",
		"titanium-white": "", "prussian-blue": "", "lead-white": "", "hansa-yellow-medium": "",
	} {
		tube := mustGet(t, id)
		if got := strings.Join(tube.Fails(), ", "); got != want || (tube.Lasting() == "") != (want == "") {
			t.Errorf("%s: %q, %q", id, got, tube.Lasting())
		}
	}
	own := Tube{Pigments: []string{"PW4", "PR83"}, Lightfastness: "IV"}
	if got := own.Lasting(); !strings.HasPrefix(got, "It fades") || !strings.Contains(got, "Zinc white grows brittle") {
		t.Errorf("both at once: %q", got)
	}
}
