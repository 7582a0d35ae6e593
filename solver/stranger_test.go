package solver_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// stranger is a program of somebody else's, in a module of its own.
const stranger = `package main

import (
	"context"
	"fmt"
	"log"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/solver"
)

func main() {
	tubes, err := catalog.Builtin()
	if err != nil {
		log.Fatal(err)
	}
	mud, err := colour.Parse("lab(38 4 9)")
	if err != nil {
		log.Fatal(err)
	}
	sky, err := colour.Parse("lab(73 -4 -17)")
	if err != nil {
		log.Fatal(err)
	}
	answer, err := solver.Choose(context.Background(), solver.Problem{
		Tubes:   tubes.Tubes(),
		Surface: tubes.Surface(film.AsDried),
		Light:   colour.D65(),
		Targets: []solver.Target{{Name: "mud", Lab: mud, Area: 1, Tolerance: 3}, {Name: "sky", Lab: sky, Area: 2, Tolerance: 3}},
		Limits:  solver.Limits{Only: []string{"titanium-white", "ultramarine-blue", "burnt-sienna", "yellow-ochre"}},
	}, nil)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(answer.Status, answer.Palettes[0].Tubes)

	white, blue := *tubes.White(), film.Paint{}
	for _, t := range tubes.Tubes() {
		if t.ID == "ultramarine-blue" {
			blue = t.Paint
		}
	}
	mixer, err := gamut.NewMixer([]film.Paint{white, blue}, gamut.Options{Surface: tubes.Surface(film.AsDried), Light: colour.D65()})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.0f\n", mixer.Evaluate([]int{0, 1}, []float64{1, 0}).L)
}
`

// The packages serve a program outside this module, and give it the answer that
// they give here.
func TestStranger(t *testing.T) {
	if testing.Short() {
		t.Skip("builds a program")
	}
	root, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	mod, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil {
		t.Fatal(err)
	}
	sums, err := os.ReadFile(filepath.Join(root, "go.sum"))
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	// The versions are those of this module, so that nothing is looked up.
	own := strings.Replace(string(mod), "module fewtubes\n", "module stranger\n", 1) + "\nrequire fewtubes v0.0.0\n\nreplace fewtubes => " + root + "\n"
	for name, text := range map[string]string{"go.mod": own, "go.sum": string(sums), "main.go": stranger} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	run := exec.Command("go", "run", ".")
	run.Dir = folder
	run.Env = append(os.Environ(), "GOFLAGS=-mod=mod -tags=nodynamic", "GOPROXY=off")
	out, err := run.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	if want := "all-reached [titanium-white ultramarine-blue yellow-ochre burnt-sienna]\n97\n"; string(out) != want {
		t.Errorf("got  %qwant %q", out, want)
	}
}
