package main

import (
	"encoding/json"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/colour"
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

// What is said of the zones goes by the figures printed above it.
func TestZonesAsPrinted(t *testing.T) {
	o := values.Options{Columns: 3, Rows: 1}
	v := &values.Comparison{Gain: 1, Stretch: 1, Zones: []values.Zone{
		{Row: 0, Column: 0, Reference: 50, Painting: 54.6},
		{Row: 0, Column: 1, Reference: 50, Painting: 45.4},
		{Row: 0, Column: 2, Reference: 50, Painting: 54.4},
	}}
	text := v.Text(o)
	for _, want := range []string{"5.0  5.5 +0.5", "5.0  4.5 -0.5", "5.0  5.4 +0.4", "Row 1, column 1: too light by 0.5.\nRow 1, column 2: too dark by 0.5.\n\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	v.Zones = v.Zones[2:]
	o.Columns = 1
	if text = v.Text(o); !strings.Contains(text, "No zone is off by as much as 0.5.") {
		t.Error(text)
	}
}

func TestValuesMistakes(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{nil, "takes two photographs"},
		{[]string{wide, "--grid", "2x2"}, "--grid says how a painting is compared"},
		{[]string{wide, "-o", "plan.svg"}, "name the file something.png or something.pdf"},
		{[]string{wide, "--paper", "A3"}, "use A4 or Letter"},
		{[]string{wide, "none.jpg"}, "none.jpg: no such file"},
		{[]string{wide, askew, "--grid", "0x3"}, "--grid 0x3"},
		{[]string{wide, askew, "--levels", "9"}, "write 2 to 5"},
		{[]string{wide, askew, "--corners", "0,0 1,1"}, "four corners are wanted, 2 found"},
		{[]string{wide, askew, "--corners", "0,0 0,1 1,1 1,0"}, "top left, top right, bottom right, bottom left"},
		{[]string{wide, askew, "--painting-card", "2,0"}, "no fraction of the picture"},
		{[]string{wide, askew, "--reference-card", "0.1,0.1"}, "give --painting-card too"},
		{[]string{wide, askew, "-o", "board.jpg"}, "name the file something.png"},
		{[]string{wide, askew, "--keep", "burnt-umber"}, "--keep is for a study; write --study too"},
		{[]string{"--study", wide, "-o", "board.jpg"}, "name the file something.png"},
		{[]string{"--study", wide, "-o", wide + ".none/study.png"}, "there is no folder"},
		{[]string{"--study", wide, "--grid", "2x2"}, "--grid says how a painting is compared"},
		{[]string{"--study", wide, "--levels", "1"}, "write 2 to 5"},
		{[]string{"--study", wide, "--palette", "ivry"}, "did you mean ivory-black?"},
		{[]string{"--study", wide, "--keep", ","}, "--keep names no tube"},
		{[]string{"--study", wide, "--palette", "ivory-black", "--keep", "ivory-black"}, "give one of them"},
	} {
		stdout, stderr, code := command(append([]string{"values"}, c.args...)...)
		if code != 2 || stdout != "" || !strings.Contains(stderr, c.want) || strings.Count(stderr, "\n") != 1 {
			t.Errorf("%v: code %d\n%s\nwant %s", c.args, code, stderr, c.want)
		}
	}
}

// A plan parts a photograph, or a scene by its areas, and draws what it says.
func TestValuePlan(t *testing.T) {
	board := filepath.Join(t.TempDir(), "plan.png")
	for _, of := range []string{wide, "../../testdata/salt-marsh.toml"} {
		for levels := 2; levels <= 5; levels++ {
			n := strconv.Itoa(levels)
			stdout, stderr, code := command("values", of, "--levels", n, "--json", "-o", board, "--force")
			var d struct {
				Schema string
				Plans  []struct {
					Name     string
					Levels   []struct{ Value, From, Share float64 }
					Together bool
				}
			}
			if err := json.Unmarshal([]byte(stdout), &d); err != nil || code != 0 || stderr != "" || d.Schema != "fewtubes/value-plan/1" {
				t.Fatalf("code %d, %v, %s", code, err, stderr)
			}
			if levels == 2 && len(d.Plans) != 3 {
				t.Errorf("%s in 2 values: %+v", of, d.Plans)
			}
			for i, p := range d.Plans {
				sum := 0.0
				for _, l := range p.Levels {
					sum += l.Share
				}
				if len(p.Levels) != levels || math.Abs(sum-1) > 1e-3 || i > 0 && !p.Together {
					t.Errorf("%s: %+v", of, p)
				}
			}
			f, err := os.Open(board)
			if err != nil {
				t.Fatal(err)
			}
			img, err := png.Decode(f)
			f.Close()
			if err != nil {
				t.Fatal(err)
			}
			w := (img.Bounds().Dx()-16)/(len(d.Plans)+1) - 16
			greys := map[uint32]bool{}
			for y := range (img.Bounds().Dy()-16)/2 - 34 {
				for x := range w {
					r, _, _, _ := img.At(16+w+16+x, 34+y).RGBA()
					greys[r>>8] = true
				}
			}
			if len(greys) != levels {
				t.Errorf("%s in %d values: %d greys are drawn", of, levels, len(greys))
			}
		}
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
	if d.Status != "all-reached" || d.Minimum.Tubes < 2 || d.Minimum.Tubes > 3 || len(d.Palettes[0].Targets) != values.StudySteps {
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

// A study in few values names as many colours, draws them, and holds no other
// grey; its shares are those of the picture.
func TestStudyInFewValues(t *testing.T) {
	board := filepath.Join(t.TempDir(), "study.png")
	stdout, stderr, code := command("values", "--study", wide, "--levels", "3", "-o", board)
	if code != 0 || stderr != "" || !strings.HasPrefix(stdout, "Value study: 3 colours;") {
		t.Fatalf("code %d %s\n%s", code, stderr, stdout)
	}
	f, err := os.Open(board)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	w, h := 600, 400 // of the picture at the size it is looked at
	if b := img.Bounds(); b.Dx() != 3*(w+16)+16 || b.Dy() < h {
		t.Fatalf("board %v", b)
	}
	greys := map[uint32]int{}
	for y := range h {
		for x := range w {
			r, _, _, _ := img.At(16+w+16+x, 34+y).RGBA()
			greys[r>>8]++
		}
	}
	if len(greys) != 3 {
		t.Errorf("the study holds %v", greys)
	}
	var printed []float64
	for _, found := range regexp.MustCompile(`(?m)^  value (\d\.\d\d) `).FindAllStringSubmatch(stdout, -1) {
		value, err := strconv.ParseFloat(found[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		printed = append(printed, value)
	}
	for grey, n := range greys {
		v := float64(grey) / 255
		l := colour.SRGB{R: v, G: v, B: v}.Lab().L
		if n < w*h/20 || !slices.ContainsFunc(printed, func(value float64) bool { return math.Abs(10*value-l) < 0.25 }) {
			t.Errorf("%d pixels of L* %.2f, which is not among %v", n, l, printed)
		}
	}
}

// A study is mixed from the tubes given, or from a palette that holds them.
func TestStudyFromGivenTubes(t *testing.T) {
	for flag, want := range map[string]string{"palette": "yellow-ochre,ivory-black,titanium-white", "keep": "burnt-umber"} {
		stdout, stderr, code := command("values", "--study", wide, "--"+flag, want, "--json")
		var d struct{ Palettes []struct{ Tubes []string } }
		if err := json.Unmarshal([]byte(stdout), &d); err != nil || code != 0 || stderr != "" {
			t.Fatalf("code %d, %v, %s", code, err, stderr)
		}
		given := strings.Split(want, ",")
		for _, p := range d.Palettes {
			for _, id := range given {
				if !slices.Contains(p.Tubes, id) {
					t.Errorf("--%s %s: %v", flag, want, p.Tubes)
				}
			}
			if flag == "palette" && len(p.Tubes) != len(given) {
				t.Errorf("--palette %s: %v", want, p.Tubes)
			}
		}
		if len(d.Palettes) == 0 {
			t.Errorf("--%s: no palette", flag)
		}
	}
}
