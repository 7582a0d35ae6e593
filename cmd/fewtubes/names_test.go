package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/owntubes"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/scene"
)

// steering are names that would move the cursor, change the terminal, turn the
// direction of writing or hide in it: ECMA-48 sections 5.2 and 5.3 for C0 and
// C1, Unicode's Bidi_Control, line and paragraph separators, and characters
// that take no room.
var steering = map[string]string{
	"C0 escape": "mud\x1b[2J", "C0 bell": "mud\a", "C0 backspace": "mud\b\b\bsky", "C0 return": "mud\rsky", "C0 line feed": "mud\nsky", "C0 tab": "mud\tsky", "delete": "mud\x7f",
	"C1 introducer": "mud\u009b2J", "C1 string": "mud\u0090x\u009c", "C1 next line": "mud\u0085sky",
	"override": "mud\u202esky", "isolate": "mud\u2066sky", "mark": "mud\u200fsky",
	"line separator": "mud\u2028sky", "paragraph separator": "mud\u2029sky",
	"zero-width space": "mu\u200bd", "word joiner": "mu\u2060d", "byte order mark": "mu\ufeffd", "soft hyphen": "mu\u00add", "tag": "mud\U000e0041", "filler": "mu\u3164d",
}

// steersNot fails the test where what a command printed could steer a terminal.
func steersNot(t *testing.T, what, text string) {
	t.Helper()
	for line := range strings.SplitSeq(text, "\n") {
		if !plain.Line(line) {
			t.Errorf("%s prints %q", what, line)
		}
	}
}

// Names in a scene and in a file of own tubes come from whoever wrote it.
func TestSteeringNamesAreRefused(t *testing.T) {
	t.Chdir(t.TempDir())
	for what, name := range steering {
		quoted := tomlEscaped(name)
		for place, text := range map[string]string{
			"title":  "format = 1\ntitle = " + quoted + "\n[[target]]\nname = \"mud\"\ncolour = \"lab(38 4 9)\"\n",
			"target": "format = 1\n[[target]]\nname = " + quoted + "\ncolour = \"lab(38 4 9)\"\n",
			"photo":  "format = 1\n[[photo]]\nname = " + quoted + "\nfile = \"a.jpg\"\n[[target]]\nname = \"mud\"\ncolour = \"lab(38 4 9)\"\n",
			"limit":  "format = 1\n[limits]\nkeep = [" + quoted + "]\n[[target]]\nname = \"mud\"\ncolour = \"lab(38 4 9)\"\n",
			"class":  "format = 1\n[limits]\navoid = [" + quoted + "]\n[[target]]\nname = \"mud\"\ncolour = \"lab(38 4 9)\"\n",
			"colour": "format = 1\n[[target]]\nname = \"mud\"\ncolour = " + quoted + "\n",
			"key":    "format = 1\n" + quoted + " = 3\n[[target]]\nname = \"mud\"\ncolour = \"lab(38 4 9)\"\n",
		} {
			refused(t, what+" in "+place, text, "choose", "in.toml")
		}
		for _, key := range []string{"id", "name", "source", "caution", "like", "opacity"} {
			tube := "format = 1\n[[tube]]\nlike = \"viridian\"\n"
			if key == "like" {
				tube = "format = 1\n[[tube]]\n"
			}
			refused(t, what+" in own "+key, tube+key+" = "+quoted+"\n", "tubes", "--own", "in.toml")
		}
	}
}

func refused(t *testing.T, what, text string, args ...string) {
	t.Helper()
	if err := os.WriteFile("in.toml", []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	stdout, stderr, code := command(args...)
	if code != exitMistake || stdout != "" || strings.Count(stderr, "\n") != 1 {
		t.Errorf("%s: exit %d, %q, %q", what, code, stdout, stderr)
	}
	steersNot(t, what, stderr)
}

// tomlEscaped is a TOML string of nothing but escapes.
func tomlEscaped(text string) string {
	var b strings.Builder
	for _, r := range text {
		fmt.Fprintf(&b, `\U%08X`, r)
	}
	return `"` + b.String() + `"`
}

// Names of files come from whoever took the photographs; they are cleaned where
// they are shown, and what is written reads back.
func TestSteeringFileNames(t *testing.T) {
	picture, err := os.ReadFile("internal/photo/testdata/srgb.png")
	if err != nil {
		t.Fatal(err)
	}
	noted, err := os.ReadFile("internal/photo/testdata/p3.jpg")
	if err != nil {
		t.Fatal(err)
	}
	noted = []byte(strings.Replace(string(noted), "acsp", "xxxx", 1)) // its profile cannot be read, which is told
	for what, name := range steering {
		t.Chdir(t.TempDir())
		put := func(ending string, data []byte) string {
			t.Helper()
			if err := os.WriteFile(name+ending, data, 0o644); err != nil {
				t.Fatal(err)
			}
			return name + ending
		}
		photo, other := put(".png", picture), put(".jpg", noted)
		runs := [][]string{
			{"sample", photo, other, "-n", "3", "-o", "scene.toml"},
			{"values", photo, other},
			{"sample", name + "-none.png"},
			{"choose", name + "-none.toml"},
			{"tubes", "--own", name + "-none.toml"},
			{"chart", "--palette", "viridian,ivory-black", "-o", name + ".pdf"},
			{"chart", "--palette", "viridian,ivory-black", "-o", name + ".pdf"}, // exists by now
			{"measure", put(".csv", soundReadings()), "-o", "own.toml"},
			{"tubes", name},
			{"pile", "1:" + name},
			{name},
			{"choose", "--" + name},
		}
		for _, args := range runs {
			stdout, stderr, code := command(args...)
			steersNot(t, fmt.Sprintf("%s: %q", what, args), stdout+stderr)
			if code != exitAnswered && code != exitMistake {
				t.Errorf("%s: %q: exit %d", what, args, code)
			}
		}
		if _, err := scene.Read("scene.toml"); err != nil {
			t.Errorf("%s: the scene sampled: %v", what, err)
		}
		if _, err := owntubes.Read("own.toml"); err != nil {
			t.Errorf("%s: the tubes measured: %v", what, err)
		}
	}
}

// markup are names that mean something to a page, a sheet or a table.
var markup = []string{
	`<script>alert(1)</script>`, `<img src=x onerror=alert(1)>`, `"onload="alert(1)`, `'><svg onload=alert(1)>`, `</style><b>`, `&lt;b&gt;`, `{{.}}`,
	`=1+1`, `+1`, `-1`, `@SUM(A1)`, `) Tj ET (`, `\`, `\) Tj (`, `<</S/JavaScript>>`,
}

// Whatever a target, a scene or a tube is called, the pages show the name and
// nothing of it becomes part of the page.
func TestMarkupInNames(t *testing.T) {
	t.Chdir(t.TempDir())
	text := "format = 1\ntitle = " + strconv.Quote("T "+markup[0]) + "\n[limits]\nonly = [\"titanium-white\", \"mine\"]\n"
	for i, name := range markup {
		text += fmt.Sprintf("[[target]]\nname = %q\ncolour = \"lab(%d 0 0)\"\n", name, 40+i)
	}
	own := fmt.Sprintf("format = 1\n[[tube]]\nid = \"mine\"\nlike = \"ivory-black\"\nname = %q\nsource = %q\ncaution = %q\n", markup[1], markup[2], markup[3])
	for name, data := range map[string]string{"scene.toml": text, "own.toml": own} {
		if err := os.WriteFile(name, []byte(data), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, args := range [][]string{
		{"choose", "scene.toml", "--own", "own.toml", "--html", "choose.html"},
		{"check", "scene.toml", "--palette", "titanium-white,mine", "--own", "own.toml", "--html", "check.html"},
		{"compare", "scene.toml", "--palette", "<script>=mine", "--palette", "b=titanium-white", "--own", "own.toml", "--html", "compare.html"},
		{"curve", "scene.toml", "--own", "own.toml", "--html", "curve.html"},
		{"tubes", "--own", "own.toml", "--html", "tubes.html"},
		{"mix", "#888888", "--palette", "titanium-white,mine", "--own", "own.toml", "--html", "mix.html"},
	} {
		if _, stderr, code := command(args...); code != exitAnswered {
			t.Fatalf("%q: exit %d, %s", args, code, stderr)
		}
		page, err := os.ReadFile(args[len(args)-1])
		if err != nil {
			t.Fatal(err)
		}
		checkMarkup(t, args[len(args)-1], string(page))
	}
}

func checkMarkup(t *testing.T, name, page string) {
	t.Helper()
	for _, bad := range markup[:5] {
		if strings.Contains(page, bad) {
			t.Errorf("%s holds %q as it is", name, bad)
		}
	}
	for _, part := range []string{"<script", "<img", "<svg onload", "onerror=alert(1)>", "ZgotmplZ"} {
		if strings.Contains(page, part) {
			t.Errorf("%s holds %q", name, part)
		}
	}
}

// The program writes no table that a spreadsheet would take formulas from. Who
// adds one must put an apostrophe before cells that begin with = + - @, tab or
// return, and test it here instead.
func TestNoTableIsWritten(t *testing.T) {
	err := filepath.WalkDir(".", func(path string, _ os.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if sel, ok := n.(*ast.SelectorExpr); ok && sel.Sel.Name == "NewWriter" {
				if pkg, ok := sel.X.(*ast.Ident); ok && pkg.Name == "csv" {
					t.Errorf("%s writes CSV", path)
				}
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
