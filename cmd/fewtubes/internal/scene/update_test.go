package scene

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"

	"pgregory.net/rapid"
)

// Each change touches its own line and no other.
func TestUpdateKeepsTheRest(t *testing.T) {
	text, err := os.ReadFile(demo)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		change         func(*Scene)
		without, wants string // lines taken out, lines put in
	}{
		"nothing": {func(*Scene) {}, "", ""},
		"colour": {func(s *Scene) {
			s.Targets[0].Colour, s.Targets[0].Lab = "lab(70 -4 -20)", colour.Lab{L: 70, A: -4, B: -20}
		}, `colour = "lab(73 -4 -17)"`, `colour = "lab(70 -4 -20)"`},
		"value beside a comment": {func(s *Scene) { s.Targets[2].Tolerance = 1.5 }, `tolerance = 2        # the eye goes here first`, `tolerance = 1.5        # the eye goes here first`},
		"key taken out":          {func(s *Scene) { s.Targets[2].Tolerance = 0 }, `tolerance = 2        # the eye goes here first`, ``},
		"key put in":             {func(s *Scene) { s.Targets[0].Tolerance = 1 }, ``, `tolerance = 1`},
		"name":                   {func(s *Scene) { s.Targets[5].Name = "bar" }, `name = "sand bar"`, `name = "bar"`},
		"limit":                  {func(s *Scene) { s.Limits.MaxTubes = 6 }, ``, `max-tubes = 6`},
		"title":                  {func(s *Scene) { s.Title = "Ebb" }, `title = "Salt marsh at ebb tide"`, `title = "Ebb"`},
		"surface":                {func(s *Scene) { s.Surface = film.NoGlare }, ``, `surface = "no-glare"`},
		"target at the end": {func(s *Scene) {
			s.Targets = append(s.Targets, Target{Name: "buoy", Colour: "#c03020", Lab: colour.SRGB{R: 192. / 255, G: 48. / 255, B: 32. / 255}.Lab(), Area: 1})
		}, ``, "[[target]]|name = \"buoy\"|colour = \"#c03020\"|area = 1|"},
	} {
		s, err := Parse("demo", text)
		if err != nil {
			t.Fatal(err)
		}
		c.change(&s)
		got, kept := Update(text, s)
		if !kept {
			t.Errorf("%s: written anew", name)
			continue
		}
		want := strings.Split(string(text), "\n")
		have := strings.Split(string(got), "\n")
		gone, come := lineDifference(want, have)
		if strings.Join(gone, "|") != c.without || strings.Join(come, "|") != c.wants {
			t.Errorf("%s: lost %q, gained %q", name, gone, come)
		}
	}
}

// lineDifference is what lies between the common beginning and the common end.
func lineDifference(a, b []string) (gone, come []string) {
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	for len(a) > 0 && len(b) > 0 && a[len(a)-1] == b[len(b)-1] {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	return a, b
}

// What was written beside the elements of an array stays when it changes.
func TestUpdateKeepsCommentsWithinArrays(t *testing.T) {
	const text = `format = 1

[limits]
own = [
  "titanium-white", # half a tube, "old" stock
  # from the winter's box
  'yellow-ochre',   # 2 # tubes
] # count them again
max-tubes = 6 # the box has six loops

[[target]]
name = "mud # 1"
colour = "#5a4a3a"
`
	s, err := Parse("own.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	s.Limits.Own = append(s.Limits.Own, "ivory-black")
	got, kept := Update([]byte(text), s)
	const want = `# half a tube, "old" stock
# from the winter's box
# 2 # tubes
own = ["titanium-white", "yellow-ochre", "ivory-black"] # count them again
max-tubes = 6 # the box has six loops
`
	if !kept || !strings.Contains(string(got), want) {
		t.Errorf("kept %v\n%s", kept, got)
	}
}

// Areas go by those of their plane until one is written beside them; then they
// are written, too, and the comments stay.
func TestUpdateWritesAreas(t *testing.T) {
	text := []byte("format = 1\n# near\n[[target]]\nname = \"mud\"\ncolour = \"lab(38 4 9)\"\nplane = \"foreground\"\n\n# far\n[[target]]\nname = \"shore\"\ncolour = \"lab(60 0 -9)\"\nplane = \"distance\"\n")
	s, err := Parse("s.toml", text)
	if err != nil || s.Targets[0].Area != 35 || s.Targets[1].Area != 10 {
		t.Fatalf("%v %+v", err, s.Targets)
	}
	s.Targets[1].Area = 4
	got, kept := Update(text, s)
	if !kept || !bytes.Contains(got, []byte("# near")) || !bytes.Contains(got, []byte("area = 35")) || !bytes.Contains(got, []byte("area = 4\n")) {
		t.Errorf("kept %v\n%s", kept, got)
	}
}

// A move that would not show in what is written moves nothing, and the colour
// stays as it was typed.
func TestRevaluedLeavesWhatBarelyMoves(t *testing.T) {
	s := Scene{Targets: []Target{{Name: "mud", Colour: "#2b2a29", Lab: colour.Lab{L: 17.03, A: 0.4, B: 0.9}}, {Name: "pool", Colour: "#000", Lab: colour.Lab{}}}}
	after, moved := Revalued(s, values.Curve{From: [3]float64{0, 50, 100}, To: [3]float64{0.06, 50, 100}})
	if len(moved) != 1 || moved[0].Name != "pool" || after.Targets[0] != s.Targets[0] {
		t.Errorf("moved %+v, now %+v", moved, after.Targets)
	}
}

// A target goes with the comment right above it, and what follows stays.
func TestUpdateTakesOutATarget(t *testing.T) {
	text, err := os.ReadFile(demo)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Parse("demo", text)
	if err != nil {
		t.Fatal(err)
	}
	n := len(s.Targets)
	s.Targets = append(append([]Target(nil), s.Targets[:3]...), s.Targets[4:n-1]...)
	got, kept := Update(text, s)
	if !kept || bytes.Contains(got, []byte("underside of a cloud")) || bytes.Contains(got, []byte("A camera sees")) || !bytes.Contains(got, []byte("# the eye goes here first")) || !bytes.Contains(got, []byte("# ---- Distance")) {
		t.Errorf("kept %v\n%s", kept, got)
	}
}

// Whatever is changed, the result reads back as the changed scene.
func TestUpdateReadsBack(t *testing.T) {
	text := []byte(strings.Replace(whole, "[limits]", "# limits\n[limits] # here", 1))
	rapid.Check(t, func(t *rapid.T) {
		s, err := Parse("ebb.toml", text)
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(0, 4).Draw(t, "changes") {
			i := rapid.IntRange(0, len(s.Targets)-1).Draw(t, "target")
			switch rapid.IntRange(0, 7).Draw(t, "change") {
			case 0:
				s.Targets[i].Area = rapid.Float64Range(0, 9).Draw(t, "area")
			case 1:
				s.Targets[i].At = nil
			case 2:
				s.Targets = append(s.Targets, Target{Name: s.Targets[i].Name + "'", Colour: "#123456", Area: 1})
			case 3:
				if len(s.Targets) > 1 {
					s.Targets = append(append([]Target(nil), s.Targets[:i]...), s.Targets[i+1:]...)
				}
			case 4:
				s.Limits = Limits{}
			case 5:
				s.Targets[i].Plane = "sky"
			case 6:
				s.Title = rapid.StringMatching(`[a-z"#= ]{0,8}`).Draw(t, "title")
			case 7:
				s.Targets[0], s.Targets[i] = s.Targets[i], s.Targets[0]
			}
		}
		got, _ := Update(text, s)
		back, err := Parse("ebb.toml", got)
		if want := s.Check(); want != nil {
			return // names met twice: nothing to read back
		}
		if err != nil || !bytes.Equal(Format(back), Format(s)) {
			t.Fatalf("%v\n%s", err, got)
		}
	})
}
