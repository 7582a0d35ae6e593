package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fewtubes/catalog"
)

// noNumber is a number that is none, as Go, C and Java print it.
var noNumber = regexp.MustCompile(`(?i)(^|[^a-z0-9])[-+]?(nan|inf|infinity)([^a-z0-9]|$)`)

// edgeScenes are scenes that say something odd, though nothing wrong.
var edgeScenes = map[string]string{
	"far out":        "format = 1\n" + oddColours("lab(0 0 0)", "lab(100 0 0)", "lab(50 140 -140)", "lab(50 -140 140)"),
	"on one spot":    "format = 1\n" + oddColours("lab(45 3 8)", "lab(45 3 8)", "lab(45 3 8)"),
	"near nothing":   "format = 1\ntolerance = 1e-9\n" + oddColours("lab(45 3 8)", "#808080"),
	"all will do":    "format = 1\ntolerance = 100\n" + oddColours("lab(45 3 8)", "lab(100 0 0)"),
	"no area":        "format = 1\n" + strings.ReplaceAll(oddColours("lab(45 3 8)", "lab(60 0 0)"), "area = 1", "area = 0"),
	"vast area":      "format = 1\n" + strings.ReplaceAll(oddColours("lab(45 3 8)", "lab(60 0 0)"), "area = 1", "area = 1e9"),
	"one paint":      "format = 1\n[limits]\npaints-per-mix = 1\n" + oddColours("lab(45 3 8)", "lab(100 0 0)"),
	"one tube":       "format = 1\n[limits]\nmax-tubes = 1\n" + oddColours("lab(45 3 8)", "lab(80 0 0)"),
	"one colour":     "format = 1\nlight = \"A\"\n" + oddColours("lab(50 0 0)"),
	"long names":     "format = 1\ntitle = \"" + strings.Repeat("ebb ", 300) + "\"\n" + strings.ReplaceAll(oddColours("lab(45 3 8)"), "odd", strings.Repeat("mud", 400)),
	"other alphabet": "format = 1\ntitle = \"潮が引く ∞ 🎨\"\n" + strings.ReplaceAll(oddColours("lab(45 3 8)"), "odd", "泥"),
}

func oddColours(colours ...string) string {
	var b strings.Builder
	for i, c := range colours {
		fmt.Fprintf(&b, "[[target]]\nname = \"odd %d\"\ncolour = %q\nplane = %q\narea = 1\n", i, c, []string{"foreground", "distance", "sky"}[i%3])
	}
	return b.String()
}

// edgeCommands are every command that reads a scene, and edgeBoxes the tubes
// they are asked about.
var edgeCommands = map[string]string{
	"choose":      "choose SCENE --only BOX --html OUT --force",
	"choose json": "choose SCENE --only BOX --json --munsell",
	"by price":    "choose SCENE --only BOX --prefer price --json",
	"check":       "check SCENE --palette BOX --html OUT --force",
	"check json":  "check SCENE --palette BOX --json",
	"compare":     "compare SCENE --palette a=BOX --palette b=titanium-white --json",
	"curve":       "curve SCENE --only BOX --svg OUT --force",
	"curve json":  "curve SCENE --only BOX --json",
	"fit":         "fit SCENE --palette BOX",
	"fit points":  "fit SCENE --points 0:0,5:5,10:10",
	"recession":   "recession SCENE -o OUT --force",
	"air":         "air SCENE --hue seen -o OUT --force",
	"handout":     "handout SCENE --palette BOX -o OUT --force",
	"pack":        "pack SCENE --palette BOX --size 1x1mm",
	"pack json":   "pack SCENE --palette BOX --size 30x40cm --json",
}

var edgeBoxes = map[string]string{
	"white":     "titanium-white",
	"blacks":    "ivory-black,mars-black",
	"two":       "titanium-white,ultramarine-blue",
	"identical": "twin-0,twin-1,twin-2,twin-3 --own twins.toml",
}

// Every command ends well on every edge: with an answer or with one line that
// says what to mend, never by a fault of its own, and with numbers alone.
func TestCommandsOnEdges(t *testing.T) {
	t.Chdir(t.TempDir())
	var twins strings.Builder
	twins.WriteString("format = 1\n")
	for i := range 4 {
		fmt.Fprintf(&twins, "[[tube]]\nid = \"twin-%d\"\nlike = \"ultramarine-blue\"\n", i)
	}
	put(t, "twins.toml", twins.String())
	boxes := slices.Sorted(maps.Keys(edgeBoxes))
	answered, asked := 0, 0
	for i, scene := range slices.Sorted(maps.Keys(edgeScenes)) {
		put(t, "scene.toml", edgeScenes[scene])
		for k, name := range slices.Sorted(maps.Keys(edgeCommands)) {
			box := boxes[(i+k)%len(boxes)] // all of them take four times as long
			words := strings.NewReplacer("SCENE", "scene.toml", "OUT", "out", "BOX", edgeBoxes[box]).Replace(edgeCommands[name])
			if asked++; endsWell(t, fmt.Sprintf("%s, %s, %s", name, scene, box), strings.Fields(words)...) {
				answered++
			}
		}
	}
	if answered < asked*3/4 {
		t.Errorf("only %d of %d have an answer", answered, asked)
	}
}

// endsWell runs a command and reports whether there was an answer.
func endsWell(t *testing.T, about string, args ...string) bool {
	t.Helper()
	stdout, stderr, code := command(args...)
	switch {
	case code == exitAnswered:
	case code == exitMistake && stdout == "" && strings.HasPrefix(stderr, "fewtubes: ") && strings.Count(stderr, "\n") == 1:
		return false
	default:
		t.Errorf("%s: exit %d\n%s%s", about, code, stdout, stderr)
	}
	if bad := noNumber.FindString(stdout); bad != "" {
		t.Errorf("%s: printed %q in\n%.2000s", about, bad, stdout)
	}
	for _, a := range args {
		if a == "--json" && !json.Valid([]byte(stdout)) {
			t.Errorf("%s: no JSON: %.300s", about, stdout)
		}
	}
	return true
}

func TestOtherCommandsOnEdges(t *testing.T) {
	t.Chdir(t.TempDir())
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	ramp(t, "grey.png", 90)
	put(t, "empty", "")
	put(t, "readings.csv", string(read(t, paintOuts(t, builtin, 0, "1 titanium-white", "1 burnt-sienna", "1 burnt-sienna + 4 titanium-white"))))
	put(t, "white.csv", string(read(t, paintOuts(t, builtin, 0, "1 titanium-white"))))
	put(t, "dark.csv", string(read(t, paintOuts(t, builtin, 1, "1 titanium-white", "1 ivory-black + 1 titanium-white"))))
	put(t, "many.toml", "format = 1\n"+oddColours(strings.Split(strings.Repeat("lab(45 3 8) ", 500)+"lab(45 3 9)", " ")...))
	for _, line := range []string{
		"mix lab(0,0,0) --palette titanium-white", "mix lab(100,0,0) --palette ivory-black --json", "mix lab(50,140,-140) --palette titanium-white,ivory-black --parts 1 --paints-per-mix 1 --json",
		"pile 1:ivory-black --json", "pile 1:titanium-white --json", "pile 0.001:phthalo-blue 1000:titanium-white --json",
		"correct --have 1:titanium-white --want lab(0,0,0) --palette titanium-white --json", "correct --have 1:ivory-black --want lab(100,0,0) --palette all --json --tolerance 0.0001",
		"correct --have 1:ivory-black --seen lab(100,0,0) --want lab(0,0,0) --palette ivory-black --json", "correct --have 1:ivory-black --want lab(0,0,0) --palette all --tolerance 100 --json",
		"tubes ivory-black --json", "tubes --json --light A", "chart --palette titanium-white,ivory-black -o out --force", "chart --palette zinc-white,titanium-white -o out --force",
		"sample grey.png", "sample grey.png -n 1 -o out --force", "sample grey.png -n 200 --as-seen", "values grey.png grey.png --json", "values grey.png grey.png --grid 12x12 --levels 5", "values --study grey.png --json",
		"measure readings.csv", "measure white.csv", "measure dark.csv", "measure dark.csv -o out --force", "measure empty", "proof empty", "sample empty", "choose empty",
		"check many.toml --palette titanium-white,burnt-sienna --json", "handout many.toml --palette titanium-white -o out --force", "fit many.toml --palette titanium-white,ivory-black", "recession many.toml",
		"pack many.toml --palette titanium-white --size 30x40cm --json", "pack many.toml --palette titanium-white --size 1x1mm --waste 0 --film 0.001 --coats 1",
	} {
		args := strings.Fields(line)
		for i := range args {
			if strings.HasPrefix(args[i], "lab(") {
				args[i] = strings.ReplaceAll(args[i], ",", " ")
			}
		}
		endsWell(t, line, args...)
	}
}

// Bands of a tube of one's own that neither absorb nor scatter are refused,
// each by its wavelength; so are readings with a gap. What is only very small
// is floored.
func TestBandsWithoutPaint(t *testing.T) {
	t.Chdir(t.TempDir())
	put(t, "scene.toml", "format = 1\n"+oddColours("lab(45 3 8)", "lab(60 0 0)"))
	own := func(k, s string) string {
		level := func(seventh string) string {
			return strings.Repeat("0.5, ", 6) + seventh + strings.Repeat(", 0.5", 24)
		}
		return "format = 1\n[[tube]]\nid = \"mine\"\nsurface = {k1 = 0.03, k2 = 0.65}\nwavelengths = {start = 400, step = 10}\nk = [" + level(k) + "]\ns = [" + level(s) + "]\n"
	}
	for _, c := range []struct{ k, s, says string }{
		{"0", "0.5", "k: 0 at 460 nm"},
		{"0.5", "0.0", "s: 0 at 460 nm"},
		{"nan", "0.5", "k: NaN at 460 nm"},
		{"0.5", "inf", "s: +Inf at 460 nm"},
		{"-0.5", "0.5", "k: -0.5 at 460 nm"},
		{"1e-300", "1e-300", ""},
	} {
		put(t, "own.toml", own(c.k, c.s))
		stdout, stderr, code := command("check", "scene.toml", "--palette", "mine,titanium-white", "--own", "own.toml", "--json")
		switch {
		case c.says == "" && (code != exitAnswered || !json.Valid([]byte(stdout))):
			t.Errorf("K %s, S %s: exit %d, %s", c.k, c.s, code, stderr)
		case c.says != "" && (code != exitMistake || !strings.Contains(stderr, c.says)):
			t.Errorf("K %s, S %s: exit %d, %q, want %q", c.k, c.s, code, stderr, c.says)
		}
	}
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(read(t, paintOuts(t, builtin, 0, "1 titanium-white", "1 burnt-sienna", "1 burnt-sienna + 4 titanium-white"))), "\n")
	cut := func(from, to int) string { // leaves out columns of the file
		var out []string
		for _, line := range lines {
			if f := strings.Split(line, ","); len(f) > to {
				line = strings.Join(append(f[:from:from], f[to:]...), ",")
			}
			out = append(out, line)
		}
		return strings.Join(out, "\n")
	}
	put(t, "gap.csv", cut(12, 20))
	if _, stderr, code := command("measure", "gap.csv"); code != exitMistake || !strings.Contains(stderr, "nm") {
		t.Errorf("a gap of 80 nm: exit %d, %s", code, stderr)
	}
	put(t, "blank.csv", strings.Replace(strings.Join(lines, "\n"), "titanium-white,0.", "titanium-white,,0.", 1))
	if _, stderr, code := command("measure", "blank.csv"); code != exitMistake {
		t.Errorf("an empty field: exit %d, %s", code, stderr)
	}
}

// ramp draws a grey photograph, rising from a grey of 0..255.
func ramp(t *testing.T, path string, from int) {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 64, 48))
	for y := range 48 {
		for x := range 64 {
			g := uint8(from + 2*x + y/2)
			img.Set(x, y, color.RGBA{g, g, uint8(from + x), 255})
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	put(t, path, b.String())
}
