package scene

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// What is typed without an area takes one by its plane.
func TestTypedAreas(t *testing.T) {
	for _, c := range []struct {
		targets string // plane and area, - for none
		want    []float64
	}{
		{"- -, - -", []float64{1, 1}}, // nothing tells them apart
		{"- 4, - -", []float64{4, 4}}, // the mean of all
		{"sky -, foreground -, foreground -, middle -, distance -", []float64{30, 17.5, 17.5, 25, 10}}, // the usual shares
		{"foreground 6, foreground 2, foreground -", []float64{6, 2, 4}},                               // the mean of its plane
		{"foreground 20, sky -, sky -", []float64{20, 3, 3}},                                           // shares of what there is
		{"sky -, - -", []float64{30, 50}},
		{"sky 0, sky -", []float64{0, 0}},
	} {
		text := "format = 1\n"
		for i, line := range strings.Split(c.targets, ", ") {
			plane, area, _ := strings.Cut(line, " ")
			text += fmt.Sprintf("[[target]]\nname = \"t%d\"\ncolour = \"#345678\"\n", i)
			if plane != "-" {
				text += fmt.Sprintf("plane = %q\n", plane)
			}
			if area != "-" {
				text += "area = " + area + "\n"
			}
		}
		s, err := Parse("s.toml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		var got []float64
		for _, target := range s.Targets {
			got = append(got, target.Area)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.targets, got, c.want)
		}
	}
}
