package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/owntubes"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// paintOuts writes a file of readings, 400-700 nm by 10, as an instrument would
// export the given mixtures of catalogue tubes.
func paintOuts(t *testing.T, builtin *catalog.Catalogue, less float64, recipes ...string) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("sample")
	for w := 400; w <= 700; w += 10 {
		fmt.Fprintf(&b, ",%d", w)
	}
	for _, recipe := range recipes {
		var mix film.Paint
		for part := range strings.SplitSeq(recipe, " + ") {
			var amount float64
			var id string
			if _, err := fmt.Sscanf(part, "%f %s", &amount, &id); err != nil {
				t.Fatal(err)
			}
			tube, err := builtin.Get(id)
			if err != nil {
				t.Fatal(err)
			}
			for k := range mix.K {
				mix.K[k] += amount * tube.Paint.K[k]
				mix.S[k] += amount * tube.Paint.S[k]
			}
		}
		b.WriteString("\n" + recipe)
		seen := mix.Masstone(film.Dry)
		for k := 2; k <= 32; k++ {
			fmt.Fprintf(&b, ",%.5f", max(0, seen[k]-less))
		}
	}
	path := filepath.Join(t.TempDir(), "readings.csv")
	if err := os.WriteFile(path, []byte(b.String()+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// Tubes measured from the catalogue's own colours come back with those colours,
// read with the gloss or without it, let down with titanium white or another.
func TestMeasureBringsTubesBack(t *testing.T) {
	const within = 0.3
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		white, surface string
		less           float64
	}{
		"dry":        {"titanium-white", "dry", 0},
		"no glare":   {"titanium-white", "no-glare", film.Dry.K1},
		"zinc white": {"zinc-white", "dry", 0},
	} {
		tubes := []string{"ultramarine-blue", "burnt-sienna", c.white}
		recipes := []string{"1 " + c.white}
		for _, id := range tubes[:2] {
			recipes = append(recipes, "1 "+id, "1 "+id+" + 4 "+c.white, "1 "+id+" + 20 "+c.white)
		}
		path := paintOuts(t, builtin, c.less, recipes...)
		out := filepath.Join(filepath.Dir(path), "own.toml")
		stdout, stderr, code := command("measure", path, "-o", out, "--surface", c.surface)
		if code != exitAnswered || !strings.Contains(stdout, "ultramarine-blue") || !strings.Contains(stdout, "label") {
			t.Fatalf("%s: exit %d\n%s%s", name, code, stdout, stderr)
		}
		own, _, err := owntubes.Load(out, builtin)
		if err != nil {
			t.Fatal(err)
		}
		titanium := builtin.White()
		for _, id := range tubes {
			was, _ := builtin.Find(id)
			is, err := own.Get(id)
			if err != nil {
				t.Fatal(err)
			}
			if is.Basis != catalog.Fitted || !is.Have {
				t.Errorf("%s: %s is %q, have %t", name, id, is.Basis, is.Have)
			}
			for _, parts := range []float64{0, 9} {
				a, b := was.Paint.Tint(titanium, parts, film.Dry), is.Paint.Tint(titanium, parts, film.Dry)
				if de := colour.DE2000(colour.D65().Lab(&a), colour.D65().Lab(&b)); de > within {
					t.Errorf("%s: %s in %g parts of white: %.2f off", name, id, parts, de)
				}
			}
		}
	}
}

func TestMeasureSaysWhatIsNotSettled(t *testing.T) {
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	path := paintOuts(t, builtin, 0, "1 titanium-white", "1 ultramarine-blue")
	stdout, stderr, code := command("measure", path)
	if code != exitAnswered || !strings.Contains(stdout, "ultramarine-blue: how much it scatters is not known") ||
		!strings.Contains(stdout, "a weighed tint in white would settle") {
		t.Errorf("exit %d\n%s%s", code, stdout, stderr)
	}
}

// One sample that makes no sense is left out with a line and the others are
// fitted; the file written states what the fit leaves open.
func TestMeasureLeavesABadSampleOut(t *testing.T) {
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	path := paintOuts(t, builtin, 0, "1 titanium-white", "1 ultramarine-blue", "1 ultramarine-blue + 9 titanium-white")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(text)), "\n")
	lines = append(lines, strings.Replace(lines[3], "1 ultramarine-blue + 9 titanium-white", "1 g nameless-blue + 9 g titanium-white", 1))
	if err := os.WriteFile(path, []byte(strings.Join(lines, "\n")+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(filepath.Dir(path), "own.toml")
	stdout, stderr, code := command("measure", path, "-o", out)
	if code != exitAnswered || strings.Contains(stdout, "nameless") || !strings.Contains(stdout, "Left out, as said above: 1 sample.") ||
		!strings.Contains(stderr, "left out: "+path+":5: sample \"1 g nameless-blue") || !strings.Contains(stderr, "density of nameless-blue is not known") {
		t.Errorf("exit %d\n%s%s", code, stdout, stderr)
	}
	own, leftOut, err := owntubes.Load(out, builtin)
	if err != nil || len(leftOut) > 0 {
		t.Fatal(err, leftOut)
	}
	blue, _ := own.Find("ultramarine-blue")
	if d := blue.Doubt; d == blue.Basis.Doubt() || d.Strength > 0.3 || d.KShape > 0.3 {
		t.Errorf("doubt %+v", d)
	}
}

// Films of three thicknesses over white and black, of known and of unknown
// thickness: known ones are believed, unknown ones found out.
func TestMeasureFindsThicknessesOut(t *testing.T) {
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	scale := builtin.Scale()
	for _, told := range []bool{true, false} {
		var b strings.Builder
		b.WriteString("sample")
		for w := 400; w <= 700; w += 10 {
			fmt.Fprintf(&b, ",%d", w)
		}
		row := func(name string, seen *colour.Spectrum) {
			b.WriteString("\n" + name)
			for k := 2; k <= 32; k++ {
				fmt.Fprintf(&b, ",%.5f", seen[k])
			}
		}
		grounds := map[string]colour.Spectrum{"white": colour.Flat(0.9), "black": colour.Flat(0.045)}
		for _, over := range []string{"white", "black"} {
			ground := grounds[over]
			row("bare "+over, &ground)
			for _, f := range []struct {
				recipe string
				um     float64
			}{
				{"titanium-white", 25}, {"quinacridone-coral", 12}, {"1 quinacridone-coral + 4 titanium-white", 35}, {"viridian", 10}, {"1 viridian + 4 titanium-white", 40},
			} {
				p := mixed(t, builtin, f.recipe)
				seen := scale.Film(&p, f.um, &ground)
				name := f.recipe + " over " + over
				if told {
					name += fmt.Sprintf(" %g um", f.um)
				}
				row(name, &seen)
			}
		}
		path := filepath.Join(t.TempDir(), "readings.csv")
		if err := os.WriteFile(path, []byte(b.String()+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		out := filepath.Join(filepath.Dir(path), "own.toml")
		stdout, stderr, code := command("measure", path, "-o", out)
		if code != exitAnswered || strings.Contains(stdout, "each was given its own") == told {
			t.Fatalf("told %t: exit %d\n%s%s", told, code, stdout, stderr)
		}
		own, _, err := owntubes.Load(out, builtin)
		if err != nil {
			t.Fatal(err)
		}
		for _, recipe := range []string{"quinacridone-coral", "viridian", "1 viridian + 1 quinacridone-coral", "1 viridian + 9 titanium-white"} {
			was, is := mixed(t, builtin, recipe), mixed(t, own, recipe)
			a, b := was.Masstone(film.Dry), is.Masstone(film.Dry)
			if de := colour.DE2000(colour.D65().Lab(&a), colour.D65().Lab(&b)); de > 2 {
				t.Errorf("told %t: %s %.2f off", told, recipe, de)
			}
		}
	}
}

// mixed is a recipe such as 1 viridian + 4 titanium-white.
func mixed(t *testing.T, c *catalog.Catalogue, recipe string) (mix film.Paint) {
	t.Helper()
	sum := 0.0
	for part := range strings.SplitSeq(recipe, " + ") {
		amount, id, ok := strings.Cut(part, " ")
		if !ok {
			amount, id = "1", part
		}
		var v float64
		if _, err := fmt.Sscan(amount, &v); err != nil {
			t.Fatal(err)
		}
		tube, err := c.Get(id)
		if err != nil {
			t.Fatal(err)
		}
		sum += v
		for b := range mix.K {
			mix.K[b] += v * tube.Paint.K[b]
			mix.S[b] += v * tube.Paint.S[b]
		}
	}
	for b := range mix.K {
		mix.K[b] /= sum
		mix.S[b] /= sum
	}
	return mix
}

func TestMeasureMistakes(t *testing.T) {
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	white, blue := paintOuts(t, builtin, 0, "1 titanium-white"), paintOuts(t, builtin, 0, "1 ultramarine-blue")
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{}, "takes one file of readings"},
		{[]string{white, "--surface", "0.04,0.6"}, "fitted under k1 0.03, k2 0.65"},
		{[]string{white, "--white", "zinc-white"}, "no reading in"},
		{[]string{blue}, "no white is among the tubes"},
		{[]string{white, "-o", white, "--force"}, "is also read from"},
		{[]string{"none.csv"}, "no such file"},
	} {
		stdout, stderr, code := command(append([]string{"measure"}, c.args...)...)
		if code != exitMistake || stdout != "" || !strings.Contains(stderr, c.want) || strings.Count(stderr, "\n") != 1 {
			t.Errorf("%v: exit %d, %q", c.args, code, stderr)
		}
	}
}

// Spectra move the tubes of the catalogue where asked, mixed with colours or not: of tubes
// that are the catalogue's own, nothing moves far.
func TestMeasureLearnsFromSpectra(t *testing.T) {
	const strength, apart = 1.15, 1.0
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	path := paintOuts(t, builtin, 0, "1 titanium-white", "1 ultramarine-blue", "1 ultramarine-blue + 9 titanium-white", "1 burnt-sienna + 4 titanium-white")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(text)), "\n")
	lines[0] += ",colour,seen by"
	for i := range lines[1:] {
		lines[1+i] += ",,"
	}
	lines = append(lines, "1 burnt-sienna"+strings.Repeat(",", 31)+",lab(31 24 20),chip")
	if err := os.WriteFile(path, []byte(strings.Join(lines, "\n")+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(filepath.Dir(path), "own.toml")
	stdout, stderr, code := command("measure", path, "--learn", "-o", out)
	if code != exitAnswered || !strings.Contains(stdout, "What 5 swatches taught") {
		t.Fatalf("exit %d\n%s%s", code, stdout, stderr)
	}
	f, err := owntubes.Read(out)
	if err != nil {
		t.Fatal(err)
	}
	lesson, err := f.Teach(builtin)
	if err != nil || len(lesson.LeftOut) > 0 {
		t.Fatal(err, lesson.LeftOut)
	}
	for i := range lesson.Tubes {
		tube := &lesson.Tubes[i]
		if s := lesson.Learnt.Paints[i].Strength; s > strength || s < 1/strength {
			t.Errorf("%s is %.2f times as strong", tube.ID, s)
		}
		now, _ := lesson.After.Find(tube.ID)
		a, b := tube.Paint.Tint(builtin.White(), 9, film.Dry), now.Paint.Tint(builtin.White(), 9, film.Dry)
		if de := colour.DE2000(colour.D65().Lab(&a), colour.D65().Lab(&b)); de > apart {
			t.Errorf("%s: its tint moved by %.2f", tube.ID, de)
		}
	}
}

// The swatch of a tube that the catalogue does not know begins from the nearest masstone.
func TestMeasureBeginsFromTheNearest(t *testing.T) {
	path := filepath.Join(t.TempDir(), "sheet.csv")
	if err := os.WriteFile(path, []byte("sample,colour\nbox-blue,lab(23 15 -27)\n1 box-blue + 9 titanium-white,lab(75 1 -30)\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	stdout, stderr, code := command("measure", path)
	if code != exitAnswered || !strings.Contains(stdout, "begun from ultramarine-blue, whose masstone is nearest") {
		t.Errorf("exit %d\n%s%s", code, stdout, stderr)
	}
}
