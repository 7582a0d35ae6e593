package printable

import (
	"fmt"
	"strings"
	"testing"
)

// A swatch of about the grey it lies on is marked, on a page of its own and in a
// part of another; any other is left as it is.
func TestSwatchesOnTheirMount(t *testing.T) {
	for hex, want := range map[string]bool{
		"#959595": true, "#a9a9a9": true, "#818181": true, "#9096a6": true,
		"#aaaaaa": false, "#808080": false, "#9595aa": false, "#ffffff": false, "": false, "#12": false,
	} {
		if got := OnMount(hex); got != want {
			t.Errorf("%q: %v", hex, got)
		}
		for _, fill := range []string{string(inlineFill(hex)), string(dataFill(hex))} {
			if strings.HasSuffix(fill, " data-near") != want {
				t.Errorf("%q: %s", hex, fill)
			}
		}
	}
	css, err := StyleSheet()
	if grey := fmt.Sprintf("--mount:#%[1]x%[1]x%[1]x", mountGrey); err != nil || !strings.Contains(string(css), grey) {
		t.Errorf("the style sheet does not hold %s: %v", grey, err)
	}
}
