package main

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/recession"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/colour"
)

const hills = `format = 1
[air]
range = "20 km"
airlight = "lab(78 -2 -6)"
[[photo]]
name = "p"
file = "pictures/p.jpg"
[[target]]
name = "mud"
colour = "lab(40 3 8)"
plane = "foreground"
[[target]]
name = "gorse"
colour = "lab(70 8 60)"
plane = "distance"
[[target]]
name = "wood"
colour = "lab(25 -5 5)"
plane = "distance"
seen = "6 km"
`

// What stands before its plane is said to, and the copy, whose photographs are
// found from where it lies, no longer does.
func TestRecessionCommand(t *testing.T) {
	t.Chdir(t.TempDir())
	put(t, "s.toml", hills)
	if err := os.Mkdir("out", 0o755); err != nil {
		t.Fatal(err)
	}
	stdout, stderr, code := command("recession", "s.toml", "-o", "out/adjusted.toml", "--svg", "out/air.svg")
	if code != 0 || stderr != "" || !strings.Contains(stdout, "gorse (value 7.0, chroma 61) stands 6 km before its plane: it was seen at 0 km") || !strings.Contains(stdout, "wood (value 2.5, chroma 7) stands 5.") {
		t.Errorf("code %d %s\n%s", code, stderr, stdout)
	}
	if picture := read(t, "out/air.svg"); !bytes.Contains(picture, []byte(">gorse</text>")) {
		t.Errorf("the picture names no colour that stands elsewhere:\n%s", picture)
	}
	s, err := scene.Read("out/adjusted.toml")
	if err != nil {
		t.Fatal(err)
	}
	if s.Photos[0].File != "../pictures/p.jpg" || s.Targets[0].Colour != "lab(40 3 8)" {
		t.Errorf("photograph at %q, mud %s", s.Photos[0].File, s.Targets[0].Colour)
	}
	if stdout, _, code = command("recession", "out/adjusted.toml"); code != 0 || !strings.Contains(stdout, "Every colour can stand where its plane lies.") {
		t.Errorf("code %d\n%s", code, stdout)
	}
}

// Colours are moved once: the copy notes how far off they are.
func TestAirCommand(t *testing.T) {
	t.Chdir(t.TempDir())
	put(t, "s.toml", hills)
	for _, hue := range []string{"measured", "seen"} {
		stdout, stderr, code := command("air", "s.toml", "--hue", hue, "-o", hue+".toml")
		if code != 0 || stderr != "" || !strings.Contains(stdout, "Hues are as "+hue) || !strings.Contains(stdout, "gorse: value 7.0 to 7.") {
			t.Errorf("code %d %s\n%s", code, stderr, stdout)
		}
		s, err := scene.Read(hue + ".toml")
		if err != nil || s.Targets[1].Seen != "6 km" || string(s.Air.Hue) != hue {
			t.Fatalf("%v %+v", err, s.Targets)
		}
		turned := colour.Name(s.Targets[1].Lab).Hue != colour.YellowOrange && colour.Name(s.Targets[1].Lab).Hue != colour.Yellow
		if turned != (hue == "measured") {
			t.Errorf("%s: gorse is %v", hue, colour.Name(s.Targets[1].Lab))
		}
		if again, _, _ := command("air", hue+".toml", "-o", "again.toml", "--force"); !strings.Contains(again, "nothing was moved") || !bytes.Equal(read(t, hue+".toml"), read(t, "again.toml")) {
			t.Errorf("a second run:\n%s", again)
		}
	}
	put(t, "indoors.toml", "format = 1\n[[target]]\nname = \"jug\"\ncolour = \"lab(40 3 8)\"\nplane = \"middle\"\n")
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"indoors.toml"}, `indoors.toml: air: the scene has no sky that the air could have its light from; write airlight = "lab(78 -2 -6)" under [air]`},
		{[]string{"s.toml", "--hue", "felt"}, `unknown reading of hue "felt"; use measured or seen`},
		{[]string{"s.toml", "-o", "s.toml", "--force"}, "is also read from"},
	} {
		for _, name := range []string{"air", "recession"} {
			stdout, stderr, code := command(append([]string{name}, c.args...)...)
			if code != 2 || stdout != "" || !strings.Contains(stderr, c.want) || strings.Count(stderr, "\n") != 1 {
				t.Errorf("%s %v: code %d\n%s\nwant %s", name, c.args, code, stderr, c.want)
			}
		}
	}
}

// The far shore of the demo is as the air of its scene lets it be, and the shaded
// bank of its foreground, carried there, comes to look like it.
func TestFarShoreAgreesWithTheLaw(t *testing.T) {
	const alike = 2.0 // CIEDE2000
	s, err := scene.Read("../../testdata/salt-marsh.toml")
	if err != nil {
		t.Fatal(err)
	}
	law, err := recession.NewLaw(&s)
	if err != nil {
		t.Fatal(err)
	}
	if found := law.Judge(&s); len(found) > 0 {
		t.Errorf("%s does not stand where its plane lies", found[0].Target.Name)
	}
	var shore, bank scene.Target
	for _, target := range s.Targets {
		switch target.Name {
		case "far shore":
			shore = target
		case "bank in its own shade":
			bank = target
		}
	}
	bank.Plane, bank.Seen = shore.Plane, "0 km"
	s.Targets = append(s.Targets, bank)
	there, _ := law.PutBack(s)
	far := there.Targets[len(there.Targets)-1]
	de := colour.DE2000(far.Lab, shore.Lab)
	t.Logf("the bank at the far shore: %v, off by %.1f", far.Lab, de)
	if de > alike {
		t.Errorf("the bank carried off to the far shore is off by %v", de)
	}
}
