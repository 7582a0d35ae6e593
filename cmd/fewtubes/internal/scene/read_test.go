package scene

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/air"
	"fewtubes/gamut/bounded"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/solver"
)

const whole = `# a comment
format = 1
title = "Ebb"
tolerance = 2.5
light = "d50"
surface = "no-glare"

[limits]
max-tubes = 6
budget = 60
avoid = ["cadmium"]
keep = ["titanium-white"]
never = ["lead-white"]
only = ["titanium-white", "yellow-ochre", "viridian"]
own = ["yellow-ochre"]
at-most-one = [["viridian", "yellow-ochre"]]
paints-per-mix = 3
prefer = "price"

[air]
range = "20 km"
airlight = "lab(78 -2 -6)"
exponent = 1
hue = "seen"

[air.planes]
foreground = "50 m"
middle = "1.5 km"

[[photo]]
name = "wide"
file = "wide.jpg"
targets = 14
planes = ["sky=0:0.3", "foreground=0.6:1", "middle=0,0.4 1,0.3 1,0.6"]
distances = {middle = "2 km"}
crop = [0, 0.1, 1, 1]
values = {from = [4, 50, 98], to = [23, 50, 97]}

[[target]]
name = "wet mud"
colour = "lab(38 4 9)"
plane = "foreground"
area = 12
tolerance = 2
seen = "30 m"
at = {photo = "wide", x = 0.4, y = 0.8, radius = 0.02}

[[target]]
name = "sky"
colour = "#c8d4dc"
`

func TestParseWhole(t *testing.T) {
	s, err := Parse("ebb.toml", []byte(whole))
	if err != nil {
		t.Fatal(err)
	}
	sky, err := colour.Parse("#c8d4dc")
	if err != nil {
		t.Fatal(err)
	}
	budget := 60.0
	exponent := 1.0
	want := Scene{
		Title: "Ebb", Tolerance: 2.5, Light: "D50", Surface: film.NoGlare,
		Air: &Air{Range: "20 km", Airlight: "lab(78 -2 -6)", Exponent: &exponent, Hue: air.Perceived, Planes: Distances{Foreground: "50 m", Middle: "1.5 km"}},
		Limits: Limits{MaxTubes: 6, Budget: &budget, Avoid: []string{"cadmium"}, Keep: []string{"titanium-white"},
			Never: []string{"lead-white"}, Only: []string{"titanium-white", "yellow-ochre", "viridian"}, Own: []string{"yellow-ochre"},
			AtMostOne: [][]string{{"viridian", "yellow-ochre"}}, PaintsPerMix: 3, Prefer: solver.Price},
		Photos: []Photo{{Name: "wide", File: "wide.jpg", Targets: 14, Planes: []PlaneShape{{Plane: "sky", To: 0.3}, {Plane: "foreground", From: 0.6, To: 1},
			{Plane: "middle", Corners: []values.Point{{X: 0, Y: 0.4}, {X: 1, Y: 0.3}, {X: 1, Y: 0.6}}}}, Distances: Distances{Middle: "2 km"}, Crop: []float64{0, 0.1, 1, 1},
			Values: &values.Curve{From: [3]float64{4, 50, 98}, To: [3]float64{23, 50, 97}}}},
		Targets: []Target{
			{Name: "wet mud", Colour: "lab(38 4 9)", Lab: colour.Lab{L: 38, A: 4, B: 9}, Plane: "foreground", Area: 12, Tolerance: 2, Seen: "30 m", At: &Spot{"wide", 0.4, 0.8, 0.02}},
			{Name: "sky", Colour: "#c8d4dc", Lab: sky, Area: 12},
		},
	}
	s.file, s.at = "", nil
	if !reflect.DeepEqual(s, want) {
		t.Errorf("got  %+v\nwant %+v", s, want)
	}
	stock, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	p := s.Problem(stock)
	if p.Limits.Budget != solver.Spend(6000) || p.Targets[0].Tolerance != 2 || p.Targets[1].Tolerance != 2.5 || p.Light != colour.D50() || p.Surface != stock.Surface(film.NoGlare) {
		t.Errorf("problem %+v", p)
	}
	s.Limits.Budget = nil
	if p := s.Problem(stock); p.Limits.Budget != (solver.Budget{}) {
		t.Errorf("no budget became %v", p.Limits.Budget)
	}
}

// What a person gets wrong, and the words, line and field they see for it.
func TestParseMistakes(t *testing.T) {
	const target = "format = 1\n[[target]]\nname = \"mud\"\n"
	for name, c := range map[string]struct{ text, want string }{
		"empty":              {"", `s.toml: format: the format is missing; begin the file with format = 1`},
		"later format":       {"format = 2", `s.toml:1: format: format 2 is not known here`},
		"no target":          {"format = 1\n", `s.toml: there is no target; add a [[target]]`},
		"unknown key":        {target + "color = \"#123456\"", `s.toml:4: target.color: unknown key (did you mean "colour"?)`},
		"unknown table":      {"format = 1\n\n[paints]\nx = 1", `s.toml:3: paints: unknown key`},
		"not TOML":           {"format = 1\n[[target]\n", `s.toml:2: `},
		"wrong type":         {"format = 1\ntolerance = \"small\"", `s.toml:2: `},
		"key twice":          {"format = 1\ntitle = \"a\"\ntitle = \"b\"", `s.toml:3: `},
		"no name":            {"format = 1\n[[target]]\ncolour = \"#123456\"", `s.toml:2: target 1, name: the target has no name`},
		"no colour":          {target, `target "mud", colour: the colour is missing`},
		"bad colour":         {target + "colour = \"greenish\"", `s.toml:4: target "mud", colour: colour "greenish" not understood`},
		"lab NaN":            {target + "colour = \"lab(nan 0 0)\"", `s.toml:4: target "mud", colour: `},
		"area NaN":           {target + "colour = \"#123456\"\narea = nan", `s.toml:5: target "mud", area: NaN is no area`},
		"area negative":      {target + "colour = \"#123456\"\narea = -3", `s.toml:5: target "mud", area: -3 is no area`},
		"area infinite":      {target + "colour = \"#123456\"\narea = inf", `area: +Inf is no area`},
		"tolerance none":     {target + "colour = \"#123456\"\ntolerance = 0", `s.toml:5: target "mud", tolerance: no mix is exact`},
		"scene tolerance":    {"format = 1\ntolerance = -1", `s.toml:2: tolerance: -1 is no CIEDE2000 difference`},
		"plane":              {target + "colour = \"#123456\"\nplane = \"front\"", `s.toml:5: target "mud", plane: unknown plane "front"; use foreground, middle, distance or sky`},
		"twice":              {target + "colour = \"#123456\"\n[[target]]\nname = \"mud\"\ncolour = \"#222222\"", `s.toml:6: target "mud", name: "mud" is already the name of target 1`},
		"light":              {"format = 1\nlight = \"F11\"", `s.toml:2: light: unknown light "F11"; use D65, D50 or A`},
		"surface":            {"format = 1\nsurface = \"wet\"", `s.toml:2: surface: unknown surface "wet"; use dry or no-glare`},
		"photo":              {target + "colour = \"#123456\"\nat = {photo = \"w\", x = 0.1, y = 0.1}", `s.toml:5: target "mud", at: no photograph is named "w"`},
		"at":                 {"format = 1\n[[photo]]\nname = \"w\"\nfile = \"w.jpg\"\n" + target[11:] + "colour = \"#123456\"\nat = {photo = \"w\", x = 40, y = 0.1}", `s.toml:8: target "mud", at: x 40, y 0.1 lie outside`},
		"keep and never":     {"format = 1\n[limits]\nkeep = [\"viridian\"]\nnever = [\"viridian\"]", `s.toml:4: limits.never: "viridian" is under keep and under never`},
		"keep beyond only":   {"format = 1\n[limits]\nkeep = [\"viridian\"]\nonly = [\"red-oxide\"]", `s.toml:4: limits.only: "viridian" is under keep but not under only`},
		"keep beyond max":    {"format = 1\n[limits]\nmax-tubes = 1\nkeep = [\"viridian\", \"red-oxide\"]", `s.toml:3: limits.max-tubes: 2 tubes are to be kept but at most 1 allowed`},
		"max none":           {"format = 1\n[limits]\nmax-tubes = 0", `s.toml:3: limits.max-tubes: 0 tubes are no palette`},
		"only never":         {"format = 1\n[limits]\nonly = [\"a\"]\nnever = [\"a\"]", `s.toml:4: limits.never: every tube under only is also under never`},
		"at most one":        {"format = 1\n[limits]\nkeep = [\"viridian\", \"red-oxide\"]\nat-most-one = [[\"red-oxide\", \"viridian\"]]", `s.toml:4: limits.at-most-one: "red-oxide" and "viridian" are both under keep`},
		"budget":             {"format = 1\n[limits]\nbudget = nan", `s.toml:3: limits.budget: NaN is no sum of money`},
		"prefer":             {"format = 1\n[limits]\nprefer = \"cheap\"", `s.toml:3: limits.prefer: unknown preference "cheap"`},
		"curve":              {"format = 1\n[[photo]]\nname = \"w\"\nfile = \"w.jpg\"\nvalues = {from = [1, 2], to = [3]}", `s.toml:5: photo "w", values: a curve has three points`},
		"curve falling":      {"format = 1\n[[photo]]\nname = \"w\"\nfile = \"w.jpg\"\nvalues = {from = [1, 50, 99], to = [60, 50, 97]}", `s.toml:5: photo "w", values: values 60, 50, 97 do not rise`},
		"plane band":         {"format = 1\n[[photo]]\nname = \"w\"\nfile = \"w.jpg\"\nplanes = [\"sky=0.5:0.1\"]", `s.toml:5: photo "w", planes: heights 0.5:0.1`},
		"flat plane band":    {"format = 1\n[[photo]]\nname = \"w\"\nfile = \"w.jpg\"\nplanes = [\"sky=0.5:0.5\"]", `s.toml:5: photo "w", planes: heights 0.5:0.5`},
		"corners":            {"format = 1\n[[photo]]\nname = \"w\"\nfile = \"w.jpg\"\nplanes = [\"sky=0,0 1,1.2 0,1\"]", `s.toml:5: photo "w", planes: corner 1,1.2 lies beyond the picture`},
		"crop":               {"format = 1\n[[photo]]\nname = \"w\"\nfile = \"w.jpg\"\ncrop = [0.5, 0, 0.4, 1]", `s.toml:5: photo "w", crop: left 0.5, top 0, right 0.4, bottom 1 are not within the picture`},
		"range of nothing":   {"format = 1\n[air]\nrange = \"0 km\"", `s.toml:3: air.range: a visual range is over 0 km`},
		"range":              {"format = 1\n[air]\nrange = \"far\"", `s.toml:3: air.range: "far" is no distance; write range = "20 km", or clear, hazy or misty`},
		"distance below":     {"format = 1\n[air]\nplanes = {middle = \"-1 km\"}", `s.toml:3: air.planes.middle: "-1 km" lies below zero`},
		"distances":          {"format = 1\n[air.planes]\nforeground = \"3 km\"", `s.toml:2: air.planes: foreground 3 km, middle 1 km and distance 6 km do not lie one behind the other`},
		"hue":                {"format = 1\n[air]\nhue = \"felt\"", `s.toml:3: air.hue: unknown reading of hue "felt"; use measured or seen`},
		"airlight":           {"format = 1\n[air]\nairlight = \"bluish\"", `s.toml:3: air.airlight: colour "bluish" not understood`},
		"exponent":           {"format = 1\n[air]\nexponent = 9", `s.toml:3: air.exponent: an exponent of particles lies between 0 and 4`},
		"seen":               {target + "colour = \"#123456\"\nseen = \"-2 m\"", `s.toml:5: target "mud", seen: "-2 m" lies below zero; write it as in "800 m" or "6 km"`},
		"photo without file": {"format = 1\n[[photo]]\nname = \"w\"", `s.toml:2: photo "w", file: the photograph names no file`},
	} {
		_, err := Parse("s.toml", []byte(c.text))
		var wrong *Error
		if !errors.As(err, &wrong) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s:\ngot  %v\nwant %s", name, err, c.want)
		}
		if err != nil && strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: more than a line: %q", name, err)
		}
	}
}

func TestParseByteOrderMark(t *testing.T) {
	if _, err := Parse("s.toml", append([]byte("\ufeff"), strings.ReplaceAll(whole, "\n", "\r\n")...)); err != nil {
		t.Error(err)
	}
}

func TestReadMissing(t *testing.T) {
	if _, err := Read(filepath.Join(t.TempDir(), "none.toml")); !errors.Is(err, os.ErrNotExist) {
		t.Error(err)
	}
}

func TestFormatReadsBack(t *testing.T) {
	s, err := Parse("ebb.toml", []byte(whole))
	if err != nil {
		t.Fatal(err)
	}
	back, err := Parse("written.toml", Format(s))
	if err != nil {
		t.Fatal(err)
	}
	if got := Format(back); !bytes.Equal(got, Format(s)) {
		t.Errorf("not canonical:\n%s", got)
	}
}

func FuzzParsePlaneShape(f *testing.F) {
	for _, s := range []string{"distance=0:0.35", "sky=0.1:1", "sky=1:0", "=:", "sky=nan:inf", "middle=0,0.4 1,0.3 1,0.6", "sky=0,0 1,nan 1,1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		b, err := ParsePlaneShape(text)
		if err != nil {
			bounded.Refusal(t, err)
			return
		}
		if again, err := ParsePlaneShape(b.String()); err != nil || !reflect.DeepEqual(again, b) {
			t.Fatalf("%q: %v, read again %v, %v", text, b, again, err)
		}
	})
}

// Whatever is read is valid, and comes back the same from its canonical form.
func FuzzParse(f *testing.F) {
	f.Add([]byte(whole))
	f.Fuzz(func(t *testing.T, data []byte) {
		var s Scene
		var err error
		bounded.Work(t, len(data), func() { s, err = Parse("s.toml", data) })
		if err != nil {
			bounded.Refusal(t, err, "s.toml", "; ")
			if wrong := (*Error)(nil); !errors.As(err, &wrong) {
				t.Fatalf("not an *Error: %T %v", err, err)
			}
			return
		}
		text := Format(s)
		again, err := Parse("s.toml", text)
		if err != nil {
			t.Fatalf("%v in\n%s", err, text)
		}
		if !bytes.Equal(text, Format(again)) {
			t.Fatalf("not stable:\n%s\n%s", text, Format(again))
		}
		if same, kept := Update(data, s); kept && !bytes.Equal(same, data) {
			t.Fatalf("no change made\n%s", same)
		}
	})
}
