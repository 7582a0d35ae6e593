package main

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/scene"
)

const threeValues = `format = 1
[[target]]
name = "hollow"
colour = "lab(8 2 3)"
[[target]]
name = "mud"
colour = "lab(50 4 9)"
[[target]]
name = "glint"
colour = "lab(99 0 1)"
`

// The scene ends where the palette's darkest and lightest mixes are, its order
// of values and its middle kept. A dry film seen with its surface glare ends
// about L* 24 in the dark; zinc white is the weakest of the whites.
func TestFitCommand(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("s.toml", []byte(threeValues), 0o644); err != nil {
		t.Fatal(err)
	}
	stdout, stderr, code := command("fit", "s.toml", "--palette", "zinc-white,ivory-black", "-o", "fitted.toml")
	if code != 0 || stderr != "" || !strings.Contains(stdout, "These tubes show values from 2.") || !strings.Contains(stdout, "hollow: value 0.8 to 2.") || strings.Contains(stdout, "mud: value") {
		t.Fatalf("code %d %s\n%s", code, stderr, stdout)
	}
	s, err := scene.Read("fitted.toml")
	if err != nil {
		t.Fatal(err)
	}
	dark, light := s.Values()
	if dark < 20 || dark > 30 || light < 88 || light > 98 || math.Abs(s.Targets[1].Lab.L-50) > 1 {
		t.Errorf("values %v to %v, middle %v", dark, light, s.Targets[1].Lab.L)
	}
	if stdout, _, code = command("fit", "fitted.toml", "--palette", "zinc-white,ivory-black"); code != 0 || strings.Contains(stdout, "mud") {
		t.Errorf("again: code %d\n%s", code, stdout)
	}

	stdout, _, code = command("fit", "s.toml", "--points", "0.8:2,5:6,9.9:9", "-o", "hand.toml")
	if code != 0 || !strings.Contains(stdout, "mud: value 5.0 to 6.0") {
		t.Errorf("code %d\n%s", code, stdout)
	}
	if s, err = scene.Read("hand.toml"); err != nil || math.Abs(s.Targets[0].Lab.L-20) > 0.01 || math.Abs(s.Targets[2].Lab.L-90) > 0.01 {
		t.Errorf("%v %+v", err, s.Targets)
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"s.toml"}, "write --palette"},
		{nil, "fit wants a scene file"},
		{[]string{"s.toml", "--palette", "titanium-wite"}, "titanium-wite"},
		{[]string{"s.toml", "--palette", "titanium-white", "--points", "0:2,5:5,10:9"}, "not both"},
		{[]string{"s.toml", "--points", "0:2,5:5"}, "three points are wanted"},
	} {
		stdout, stderr, code := command(append([]string{"fit"}, c.args...)...)
		if code != 2 || stdout != "" || !strings.Contains(stderr, c.want) || strings.Count(stderr, "\n") != 1 {
			t.Errorf("%v: code %d\n%s\nwant %s", c.args, code, stderr, c.want)
		}
	}
}

// What the tubes do not mix is pressed into reach; a second run finds nothing to
// move.
func TestFitBringsIntoReach(t *testing.T) {
	demo, err := filepath.Abs("../../testdata/salt-marsh.toml")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	if stdout, _, _ := command("check", demo, "--palette", kit); strings.Contains(stdout, "every one of the 24 colours") {
		t.Fatalf("nothing to press:\n%s", stdout)
	}
	stdout, stderr, code := command("fit", demo, "--palette", kit, "-o", "fitted.toml")
	if code != 0 || stderr != "" || !strings.Contains(stdout, "whose chroma was pressed into reach") || !strings.Contains(stdout, "samphire, turned red: value 4.2 to 4.") {
		t.Fatalf("code %d %s\n%s", code, stderr, stdout)
	}
	if stdout, _, code = command("check", "fitted.toml", "--palette", kit); code != 0 || !strings.Contains(stdout, "every one of the 24 colours") {
		t.Errorf("code %d\n%s", code, stdout)
	}
	if stdout, _, code = command("fit", "fitted.toml", "--palette", kit); code != 0 || !strings.HasSuffix(stdout, "Every colour is within reach of these tubes: no chroma was pressed.\n") {
		t.Errorf("again: code %d\n%s", code, stdout)
	}
}
