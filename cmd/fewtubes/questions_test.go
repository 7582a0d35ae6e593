package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fewtubes/catalog"
)

const kit = "titanium-white,yellow-ochre,ultramarine-blue,burnt-sienna,hansa-yellow-medium"

// questions about the demo and about a scene sampled from its pictures. What one
// writes, those after it may read.
var questions = []string{
	"choose salt-marsh.toml --json",
	"choose salt-marsh.toml --html answer.html",
	"choose salt-marsh.toml --certificate proof --only " + kit,
	"check salt-marsh.toml --json --palette " + kit,
	"compare salt-marsh.toml --avoid cadmium --json",
	"curve salt-marsh.toml --json --svg curve.svg --only " + kit,
	"mix lab(45 -12 22) --json --palette " + kit,
	"correct --have 3:ultramarine-blue,1:yellow-ochre --want lab(40 -10 12) --palette all --json",
	"measure readings.csv -o measured.toml",
	"mix lab(55 -15 12) --json --own own.toml",
	"pile 3:ultramarine-blue 1:yellow-ochre --json --munsell",
	"sample salt-marsh/wide.jpg salt-marsh/close.jpg -n 14 -o sampled.toml",
	"sample salt-marsh/wide.jpg:sky=0:0.35,middle=0.4:0.7 salt-marsh/close.jpg:foreground=0:1 --crop salt-marsh/close.jpg=0.1,0.2,0.9,1 -o cropped.toml",
	"join sampled.toml cropped.toml -o joined.toml",
	"choose sampled.toml --json",
	"fit sampled.toml -o fitted.toml --palette " + kit,
	"recession salt-marsh.toml --svg recession.svg",
	"air cropped.toml --hue seen",
	"repaint salt-marsh/wide.jpg -o repainted.png --json --palette " + kit,
	"choose --picture 95 salt-marsh.toml --given-up given.png --more --only " + kit,
	"pack salt-marsh.toml --size 30x40cm --json --palette " + kit,
	"handout salt-marsh.toml -o class.pdf --palette " + kit,
	"chart -o chart.pdf --palette " + kit,
	"values salt-marsh/wide.jpg salt-marsh/close.jpg -o board.png",
	"values salt-marsh/wide.jpg --levels 2 --json",
	"values salt-marsh.toml --levels 3 -o plan.pdf",
	"tubes --json --munsell",
	"measure painted.csv -o learnt.toml",
	"measure --pile 3:ultramarine-blue,1:yellow-ochre --seen lab(33 -3 -4) --box swatches.toml",
	"chart --learn -o learn.pdf --box swatches.toml",
	"check salt-marsh.toml --json --box swatches.toml",
}

// answersOf puts questions to a program, in a folder that holds the demo: what each
// prints, and every file that is written.
func answersOf(t *testing.T, program, questions []string) map[string]string {
	t.Helper()
	folder, out := furnished(t), map[string]string{}
	for _, q := range questions {
		run := exec.Command(program[0], append(program[1:len(program):len(program)], arguments(q)...)...)
		run.Dir = folder
		var printed, said bytes.Buffer
		run.Stdout, run.Stderr = &printed, &said
		if err := run.Run(); err != nil && run.ProcessState.ExitCode() != exitMissed { // a proof may be of parts
			t.Fatalf("fewtubes %s: %v\n%s", q, err, said.String())
		}
		out["fewtubes "+q] = printed.String() + said.String()
	}
	err := filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		out[strings.TrimPrefix(path, folder)] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// furnished is a folder with what questions are asked about: the demo, readings and colours
// of tubes, own tubes, and pictures under the names that README.md gives to a painter's.
func furnished(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	for at, from := range map[string]string{folder: "../../testdata", filepath.Join(folder, "testdata"): "../../testdata"} {
		if err := os.CopyFS(at, os.DirFS(from)); err != nil {
			t.Fatal(err)
		}
	}
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	readings := paintOuts(t, builtin, 0, "1 titanium-white", "1 ultramarine-blue", "1 ultramarine-blue + 4 titanium-white", "1 ultramarine-blue + 20 titanium-white")
	if err := os.Rename(readings, filepath.Join(folder, "readings.csv")); err != nil {
		t.Fatal(err)
	}
	painted := "sample,L,a,b,seen by\ntitanium-white,97,-0.5,1.5,instrument\nultramarine-blue over white 24 um,28,20,-50,chip\n1 ultramarine-blue + 4 titanium-white,67,4,-38,chip\n" +
		"viridian,30,-20,2,chip\n1 viridian + 9 titanium-white,72,-22,2,camera\nbare white,95,0,2,instrument\n"
	if err := os.WriteFile(filepath.Join(folder, "painted.csv"), []byte(painted), 0o644); err != nil {
		t.Fatal(err)
	}
	own := "format = 1\n[[tube]]\nid = \"marsh-green\"\nname = \"Marsh green\"\nprice = 9\nmasstone = \"lab(40 -20 15)\"\ntint = \"lab(70 -15 10)\"\n"
	if err := os.WriteFile(filepath.Join(folder, "own.toml"), []byte(own), 0o644); err != nil {
		t.Fatal(err)
	}
	for name, picture := range map[string]string{"meadow": "wide", "hill": "close", "reference": "wide", "painting": "close"} {
		if err := os.Link(filepath.Join(folder, "salt-marsh", picture+".jpg"), filepath.Join(folder, name+".jpg")); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

// questionsOf are the commands that a page of Markdown shows, in its order: in
// blocks of code, and between backquotes in the last column of a table.
func questionsOf(t *testing.T, page string) (out []string) {
	t.Helper()
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	inTable := regexp.MustCompile("`([^`]+)`")
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSpace(line)
		_, command, shown := strings.Cut(line, "fewtubes ")
		switch {
		case shown && (line == "fewtubes "+command || line == "bin/fewtubes "+command):
			out = append(out, command)
		case strings.HasPrefix(line, "| ") && strings.HasSuffix(line, "` |"):
			for _, m := range inTable.FindAllStringSubmatch(line[strings.Index(line, "| `"):], -1) {
				out = append(out, m[1])
			}
		}
	}
	for i, q := range out {
		out[i] = strings.NewReplacer(`"`, "", "KIT", kit).Replace(q)
	}
	return out
}

// arguments are the words of a line; what stands in brackets is part of one.
func arguments(line string) []string {
	return regexp.MustCompile(`\w+\([^)]*\)|\S+`).FindAllString(line, -1)
}

// parting is where two texts part, with a little of what surrounds it.
func parting(a, b string) string {
	at := 0
	for at < min(len(a), len(b)) && a[at] == b[at] {
		at++
	}
	around := func(s string) string { return s[max(0, at-200):min(len(s), at+200)] }
	return fmt.Sprintf("%q\n%q", around(a), around(b))
}
