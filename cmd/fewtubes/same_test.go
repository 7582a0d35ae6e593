package main

import (
	"bytes"
	"cmp"
	"flag"
	"fmt"
	"math/rand/v2"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

var (
	sameScenes = flag.Int("scenes", 8, "scenes of TestSameAnswer")
	sameTubes  = flag.Int("tubes", 14, "most tubes in them, 12 to 80")
)

// ran is what came of a run.
type ran struct {
	stdout, stderr string
	code           int
}

// choose gives the same bytes, text and JSON, whatever the number of workers
// and however often it is asked. Under the race detector the bytes are those of
// the program built without it.
func TestSameAnswer(t *testing.T) {
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	plain := plainProgram(t)
	seed := rand.New(rand.NewPCG(8, 6))
	met := map[int]int{}
	for i := range *sameScenes {
		put(t, "scene.toml", nearReach(seed, builtin.Tubes(), *sameTubes))
		for form, workersEach := range map[string][]int{"--json=false": {4}, "--json": {2, 4, 4}} {
			form := []string{"choose", "scene.toml", form}
			first := ranWith(1, form)
			met[first.code]++
			if first.code != exitAnswered && first.code != exitMistake {
				t.Fatalf("scene %d: exit %d\n%s%s", i, first.code, first.stderr, read(t, "scene.toml"))
			}
			for _, workers := range workersEach {
				if again := ranWith(workers, form); again != first {
					t.Fatalf("scene %d: with %d workers\n%+v\nwith 1\n%+v\nof\n%s", i, workers, again, first, read(t, "scene.toml"))
				}
			}
			if plain == "" {
				continue
			}
			stdout, stderr, code := finish(t, exec.Command(plain, form...))
			if other := (ran{stdout, stderr, code}); other != first {
				t.Fatalf("scene %d: under the race detector\n%+v\nwithout it\n%+v", i, first, other)
			}
		}
	}
	t.Logf("%d scenes over 1, 2, 4 and again 4 workers in JSON and 1 and 4 in text: %d have an answer, the limits of %d leave nothing",
		*sameScenes, met[exitAnswered]/2, met[exitMistake]/2)
	if met[exitAnswered] < 3*met[exitMistake] {
		t.Errorf("too few scenes have an answer: %v", met)
	}
}

func ranWith(workers int, args []string) ran {
	runtime.GOMAXPROCS(workers)
	stdout, stderr, code := command(args...)
	return ran{stdout, stderr, code}
}

// plainProgram builds the program without the race detector, where the test
// runs under it.
func plainProgram(t *testing.T) string {
	t.Helper()
	if !raced {
		return ""
	}
	program := filepath.Join(t.TempDir(), "fewtubes")
	build := exec.Command("go", "build", "-o", program, "fewtubes/cmd/fewtubes")
	build.Dir = sourceFolder
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return program
}

// nearReach is a scene of random colours about the edge of what random tubes, 12 to
// most, reach, under random limits.
func nearReach(r *rand.Rand, all []catalog.Tube, most int) string {
	var b strings.Builder
	tubes := slices.Clone(all)
	r.Shuffle(len(tubes), func(i, j int) { tubes[i], tubes[j] = tubes[j], tubes[i] })
	tubes = tubes[:12+r.IntN(min(len(tubes), most)-11)]
	fmt.Fprintf(&b, "format = 1\ntolerance = %d\nlight = %q\n\n[limits]\nonly = [%s]\n", 1+r.IntN(5), pick(r, "D65", "D65", "D50", "A"), quoted(tubes))
	fmt.Fprintf(&b, "prefer = %q\n", pick(r, "usual", "accuracy", "price", "hazards", "lightfastness"))
	maybe := func(format string, args ...any) {
		if r.IntN(3) == 0 {
			fmt.Fprintf(&b, format+"\n", args...)
		}
	}
	maybe("max-tubes = %d", 1+r.IntN(6))
	maybe("budget = %d", 20+r.IntN(80))
	maybe("avoid = [%q]", pick(r, catalog.Classes()...))
	maybe("keep = [%s]", quoted(tubes[:1+r.IntN(2)]))
	maybe("never = [%s]", quoted(tubes[2:2+r.IntN(4)]))
	maybe("own = [%s]", quoted(tubes[3:3+r.IntN(5)]))
	maybe("at-most-one = [[%s]]", quoted(tubes[6:9]))
	maybe("paints-per-mix = %d", 1+r.IntN(4))
	for i := range 2 + r.IntN(max(most/10, 3)) {
		c := someMix(r, tubes)
		away := func() float64 { return 6 * r.NormFloat64() }
		fmt.Fprintf(&b, "\n[[target]]\nname = \"t%d\"\ncolour = \"lab(%.1f %.1f %.1f)\"\narea = %d\n", i, min(max(c.L+away(), 0), 100), c.A+away(), c.B+away(), r.IntN(9))
	}
	return b.String()
}

// someMix is the colour of two or three of the tubes in random parts.
func someMix(r *rand.Rand, tubes []catalog.Tube) colour.Lab {
	var paints []film.Paint
	var amounts []float64
	for range 2 + r.IntN(2) {
		paints = append(paints, tubes[r.IntN(len(tubes))].Paint)
		amounts = append(amounts, 0.05+r.Float64())
	}
	var mix film.Paint
	film.Mix(&mix, paints, amounts)
	seen := mix.Masstone(film.Dry)
	return colour.D65().Lab(&seen)
}

func pick[T any](r *rand.Rand, from ...T) T { return from[r.IntN(len(from))] }

func quoted(tubes []catalog.Tube) string {
	var ids []string
	for _, t := range slices.SortedFunc(slices.Values(tubes), func(a, b catalog.Tube) int { return cmp.Compare(a.ID, b.ID) }) {
		ids = append(ids, fmt.Sprintf("%q", t.ID))
	}
	return strings.Join(ids, ", ")
}

// sourceFolder is where the tests were started, before they change folders.
var sourceFolder, _ = filepath.Abs(".")

// finish runs a process to its end.
func finish(t *testing.T, cmd *exec.Cmd) (stdout, stderr string, code int) {
	t.Helper()
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Run(); err != nil && cmd.ProcessState == nil {
		t.Fatal(err)
	}
	return out.String(), errs.String(), cmd.ProcessState.ExitCode()
}
