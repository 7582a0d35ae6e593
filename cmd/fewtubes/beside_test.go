package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var (
	beside         = flag.String("beside", "", "another build of the program, which TestBeside puts the same questions to")
	besidePictures = flag.String("pictures", "", "a folder of photographs to sample scenes from as well")
)

// Another build of the program answers as this one does: every command of
// README.md, the demo, and scenes sampled from photographs. Needs may differ, and
// the order of palettes of one size, since either is a choice among equals; the
// test says where they do.
func TestBeside(t *testing.T) {
	if *beside == "" {
		t.Skip("-beside names no program; make beside does")
	}
	theirs, err := filepath.Abs(*beside)
	if err != nil {
		t.Fatal(err)
	}
	ours := filepath.Join(t.TempDir(), "fewtubes")
	if out, err := exec.Command("go", "build", "-o", ours, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	asked := slices.Concat(offline(questionsOf(t, "../../README.md")), questions, pages, aboutPictures(t))
	for i, q := range asked {
		asked[i] = again(q)
	}
	here, there := answersOf(t, []string{ours}, asked), answersOf(t, []string{theirs}, asked)
	same := 0
	for _, what := range sortedKeys(here) {
		switch got, want := here[what], there[what]; {
		case got == want:
			same++
		case sameButForEquals(what, want, got):
			t.Logf("%s: other needs, or equals in another order", what)
		default:
			t.Errorf("%s differs, first there, then here:\n%s", what, parting(want, got))
		}
	}
	if len(there) != len(here) {
		t.Errorf("%d answers and files here, %d there", len(here), len(there))
	}
	t.Logf("%d questions; of %d answers and files %d are the same to the byte", len(asked), len(here), same)
}

// pages are answers in forms that processors are not compared in.
var pages = []string{
	"check salt-marsh.toml --html check.html --palette " + kit,
	"check salt-marsh.toml --palette " + kit,
	"compare salt-marsh.toml --html compared.html --avoid cadmium",
	"compare salt-marsh.toml --palette mine=" + kit + " --palette other=titanium-white,yellow-ochre,prussian-blue --json",
	"curve salt-marsh.toml --html curve.html --only " + kit,
	"mix lab(45,-12,22) --html mix.html --palette " + kit,
	"pile 3:ultramarine-blue 1:yellow-ochre --html pile.html",
	"correct --have 3:ultramarine-blue,1:yellow-ochre --want lab(40,-10,12) --palette all --html corrected.html",
	"choose salt-marsh.toml --max-tubes 3 --avoid cadmium,lead --prefer price --munsell",
	"choose salt-marsh.toml --max-tubes 3 --avoid cadmium,lead --prefer price --json",
	"values salt-marsh/wide.jpg --study",
	"tubes --html tubes.html",
}

// offline drops the commands that do not end by themselves.
func offline(questions []string) []string {
	return slices.DeleteFunc(questions, func(q string) bool { return strings.HasPrefix(q, "serve") })
}

// aboutPictures samples a scene from each photograph and asks for its palettes.
func aboutPictures(t *testing.T) (out []string) {
	t.Helper()
	if *besidePictures == "" {
		return nil
	}
	files, err := filepath.Glob(filepath.Join(*besidePictures, "*.jpg"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no photograph in %s %v", *besidePictures, err)
	}
	for _, file := range files {
		if file, err = filepath.Abs(file); err != nil {
			t.Fatal(err)
		}
		scene := strings.TrimSuffix(filepath.Base(file), ".jpg") + ".toml"
		out = append(out, "sample "+file+" -n 14 -o "+scene, "choose "+scene, "choose "+scene+" --json", "choose "+scene+" --html "+scene+".html")
	}
	return out
}

// again lets a question write over what an earlier one wrote.
func again(question string) string {
	for _, output := range []string{" -o ", " --html ", " --svg ", " --certificate "} {
		if strings.Contains(question, output) {
			return question + " --force"
		}
	}
	return question
}

func sortedKeys(m map[string]string) (keys []string) {
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// sameButForEquals compares two answers without their needs and with palettes of
// one size in one order. Where the list of these is not whole, which of them stand
// in it is a choice among equals, too. A proof is about needs and nothing else.
func sameButForEquals(what, a, b string) bool {
	var left, right map[string]any
	if json.Unmarshal([]byte(a), &left) == nil && json.Unmarshal([]byte(b), &right) == nil {
		return reflect.DeepEqual(withoutEquals(left), withoutEquals(right))
	}
	return strings.HasPrefix(what, "/proof/") || strings.HasPrefix(what, "fewtubes proof ") || equalsInText.ReplaceAllString(a, "") == equalsInText.ReplaceAllString(b, "")
}

// equalsInText are the sections of needs and of equal palettes, as text and as HTML.
var equalsInText = regexp.MustCompile(`(?m)^(Why not fewer|Other palettes of .*)\n(  .*\n)*|^<h2>(Why not fewer|Other palettes of the same size)</h2>\n(?:.*\n)*?</section>`)

func withoutEquals(document map[string]any) map[string]any {
	delete(document, "needs")
	delete(document, "disjoint_needs")
	delete(document, "count")
	palettes, _ := document["palettes"].([]any)
	if len(palettes) < 2 {
		return document
	}
	if document["capped"] == true {
		document["palettes"] = []any{palettes[0], len(palettes)}
		delete(document, "tubes") // the facts of every tube in them
		return document
	}
	slices.SortFunc(palettes, func(a, b any) int { return strings.Compare(fmt.Sprint(a), fmt.Sprint(b)) })
	return document
}

// Every command that README.md shows can be asked of the program.
func TestReadmeIsUnderstood(t *testing.T) {
	shown := questionsOf(t, "../../README.md")
	if len(shown) < 20 {
		t.Fatalf("only %d commands found: %q", len(shown), shown)
	}
	app := newApp(os.Stdout, os.Stderr)
	for _, q := range shown {
		if _, err := arrange(app, append([]string{"fewtubes"}, arguments(q)...)); err != nil {
			t.Errorf("fewtubes %s: %v", q, err)
		}
	}
}
