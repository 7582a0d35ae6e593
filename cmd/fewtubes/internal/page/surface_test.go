package page

import (
	"strings"
	"testing"
)

// A dark that dry paint cannot show is within reach where no glare is seen, and the
// saved scene says how it is looked at.
func TestSurfaceIsChosen(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.typeColours("hollow = lab(14 0 -2); sky = lab(73 -4 -17)")
	b.until(learned)
	b.want(`document.querySelectorAll(".chip.out").length === 1`)
	if !reported[bool](b, `doc.body.textContent.includes("varnished, or lit so that no glare is seen")`) {
		t.Error("a varnish is not told of")
	}
	b.limit("surface", "no-glare")
	b.until(learned)
	b.want(`document.querySelectorAll(".chip.out").length === 0`)
	if saved := b.save(); !strings.Contains(saved, "\nsurface = \"no-glare\"\n") {
		t.Errorf("saved:\n%s", saved)
	}
	b.quiet()
}
