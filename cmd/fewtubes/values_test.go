package main

import (
	"encoding/json"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/scene"
)

// askew is the wide picture of the demo, photographed askew on a grey ground.
const askew = "internal/values/testdata/askew.jpg"

func TestValuesCommand(t *testing.T) {
	board := filepath.Join(t.TempDir(), "board.png")
	stdout, stderr, code := command("values", wide, askew, "--grid", "3x2", "--levels", "3", "-o", board)
	if code != 0 || stderr != "" || !strings.Contains(stdout, "No zone is off") || !strings.Contains(stdout, "The painting was found at 0.1") {
		t.Errorf("code %d %s\n%s", code, stderr, stdout)
	}
	f, err := os.Open(board)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if size, err := png.DecodeConfig(f); err != nil || size.Width < 1000 {
		t.Errorf("board %v, %v", size, err)
	}

	if stdout, _, _ = command("values", wide, "../../testdata/salt-marsh/close.jpg"); !strings.Contains(stdout, "narrower than the reference by 20 %") {
		t.Errorf("another shape:\n%s", stdout)
	}

	stdout, _, code = command("values", wide, askew, "--json", "--grid", "3x2")
	var d struct {
		Schema string
		Zones  []struct {
			Row, Column                     int
			Reference, Painting, Difference float64
		}
	}
	if err := json.Unmarshal([]byte(stdout), &d); err != nil || code != 0 {
		t.Fatalf("code %d, %v", code, err)
	}
	if d.Schema != "fewtubes/values/1" || len(d.Zones) != 6 || d.Zones[5].Row != 2 || d.Zones[5].Column != 3 {
		t.Errorf("%+v", d)
	}
	for _, z := range d.Zones {
		if math.Abs(z.Painting-z.Reference-z.Difference) > 0.006 || z.Reference < 20 || z.Reference > 95 {
			t.Errorf("%+v", z)
		}
	}
}

func TestValuesMistakes(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{wide}, "takes two photographs"},
		{[]string{wide, "none.jpg"}, "none.jpg: no such file"},
		{[]string{wide, askew, "--grid", "0x3"}, "--grid 0x3"},
		{[]string{wide, askew, "--levels", "9"}, "write 3 to 5"},
		{[]string{wide, askew, "--corners", "0,0 1,1"}, "four corners are wanted, 2 found"},
		{[]string{wide, askew, "--corners", "0,0 0,1 1,1 1,0"}, "top left, top right, bottom right, bottom left"},
		{[]string{wide, askew, "--painting-card", "2,0"}, "no fraction of the picture"},
		{[]string{wide, askew, "--reference-card", "0.1,0.1"}, "give --painting-card too"},
		{[]string{wide, askew, "-o", "board.jpg"}, "name the file something.png"},
	} {
		stdout, stderr, code := command(append([]string{"values"}, c.args...)...)
		if code != 2 || stdout != "" || !strings.Contains(stderr, c.want) || strings.Count(stderr, "\n") != 1 {
			t.Errorf("%v: code %d\n%s\nwant %s", c.args, code, stderr, c.want)
		}
	}
}

// A distance that comes forward is said to, and the adjusted copy no longer does.
func TestRecessionCommand(t *testing.T) {
	t.Chdir(t.TempDir())
	err := os.WriteFile("s.toml", []byte(`format = 1
[[photo]]
name = "p"
file = "pictures/p.jpg"
[[target]]
name = "mud"
colour = "lab(40 3 8)"
plane = "foreground"
[[target]]
name = "grass"
colour = "lab(72 -5 20)"
plane = "foreground"
[[target]]
name = "gorse"
colour = "lab(70 8 60)"
plane = "distance"
[[target]]
name = "wood"
colour = "lab(25 -5 5)"
plane = "distance"
`), 0o644)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir("out", 0o755); err != nil {
		t.Fatal(err)
	}
	stdout, stderr, code := command("recession", "s.toml", "-o", "out/adjusted.toml")
	if code != 0 || stderr != "" || !strings.Contains(stdout, "the distance has more chroma") || !strings.Contains(stdout, "habits of painters, not laws") {
		t.Errorf("code %d %s\n%s", code, stderr, stdout)
	}
	s, err := scene.Read("out/adjusted.toml")
	if err != nil {
		t.Fatal(err)
	}
	if s.Photos[0].File != "../pictures/p.jpg" {
		t.Errorf("photograph at %q", s.Photos[0].File)
	}
	stdout, _, code = command("recession", "out/adjusted.toml")
	if code != 0 || !strings.Contains(stdout, "step back") {
		t.Errorf("code %d\n%s", code, stdout)
	}
}

// A study in greys takes two or three tubes (common practice, no source) and
// has a mix for every step of its ladder.
func TestStudy(t *testing.T) {
	stdout, stderr, code := command("values", "--study", wide, "--json")
	var d struct {
		Status   string
		Minimum  struct{ Tubes int }
		Palettes []struct {
			Targets []struct {
				DE     float64
				Shares map[string]float64
			}
		}
	}
	if err := json.Unmarshal([]byte(stdout), &d); err != nil || code != 0 || stderr != "" {
		t.Fatalf("code %d, %v, %s", code, err, stderr)
	}
	if d.Status != "all-reached" || d.Minimum.Tubes < 2 || d.Minimum.Tubes > 3 || len(d.Palettes[0].Targets) != studySteps {
		t.Errorf("%s, %+v", d.Status, d.Minimum)
	}
	for _, target := range d.Palettes[0].Targets {
		if target.DE > 3 || len(target.Shares) == 0 {
			t.Errorf("%+v", target)
		}
	}
	if _, stderr, code = command("values", "--study", wide, askew); code != 2 || !strings.Contains(stderr, "takes one photograph") {
		t.Errorf("two pictures: code %d, %s", code, stderr)
	}
}
