package main

import (
	"context"
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/proofs"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/solver"
)

// The covering argument of an answer is decided by another solver, too: Debian's clasp
// finds no palette below the minimum, and one that is as small. The answers are those
// of the demo at several tolerances and of seeded scenes under random limits, budgets,
// tubes to keep and groups among them. Each has a proof that the checker takes.
func TestCoversAreRefutedByAnotherSolver(t *testing.T) {
	if _, err := exec.LookPath("clasp"); err != nil {
		t.Skip("clasp is not here; make short fetches it")
	}
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	demo, err := os.ReadFile("../../testdata/salt-marsh.toml")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	var scenes []string
	for _, tolerance := range []string{"3", "4"} {
		scenes = append(scenes, strings.Replace(string(demo), "tolerance = 3", "tolerance = "+tolerance, 1))
	}
	rng := rand.New(rand.NewPCG(26, 4))
	for range 40 {
		scenes = append(scenes, nearReach(rng, builtin.Tubes(), 30))
	}
	asFew := len(scenes) // with as few tubes to buy as can be
	for _, text := range scenes {
		if strings.Contains(text, "\nown = ") {
			scenes = append(scenes, text)
		}
	}
	refuted, lines, limited, bought := 0, map[bool]int{}, 0, 0
	for i, text := range scenes {
		s := minimumOf(t, builtin, text, i >= asFew)
		if s == nil || len(s.Minima) == 0 {
			continue
		}
		folder, err := s.Folder(context.Background(), proofs.Certificates{})
		if err != nil {
			t.Fatalf("scene %d: %v\n%s", i, err, text)
		}
		for _, f := range folder.Files {
			put(t, f.Name, string(f.Data))
		}
		v, err := proofs.Verify(context.Background(), ".", func(int, int) {})
		if err != nil || slices.Contains(v.Covering, false) || !v.Smallest {
			t.Fatalf("scene %d: %+v, %v\n%s", i, v, err, text)
		}
		for k := range s.Minima {
			m := &s.Minima[k]
			file := "cover-" + m.What
			if said := clasp(t, file+".opb"); said != "UNSATISFIABLE" {
				t.Errorf("scene %d, below %v: %s", i, m, said)
			}
			lines[strings.Count(string(read(t, file+".pbp")), "\np ") == 1]++
			m.Least++
			var looser strings.Builder
			if err := s.Formula(k).WriteOPB(&looser); err != nil {
				t.Fatal(err)
			}
			m.Least--
			put(t, "looser.opb", looser.String())
			if said := clasp(t, "looser.opb"); said != "SATISFIABLE" {
				t.Errorf("scene %d, at %v: %s", i, m, said)
			}
		}
		if s.Limits.Budgeted || len(s.Limits.Keep)+len(s.Limits.Groups) > 0 {
			limited++
		}
		refuted++
		if len(s.Minima) > 1 {
			bought++
		}
	}
	t.Logf("%d of %d scenes have a minimum; %d proofs of one line, %d of more; %d under limits besides, %d also of what is bought", refuted, len(scenes), lines[true], lines[false], limited, bought)
	if refuted < 20 || limited < 8 || bought < 3 {
		t.Error("too few")
	}
}

// minimumOf is what choose states about a scene; nil: its limits cannot be kept.
func minimumOf(t *testing.T, builtin *catalog.Catalogue, text string, toBuy bool) *proofs.Statement {
	t.Helper()
	put(t, "scene.toml", text)
	painted, err := scene.Read("scene.toml")
	if err != nil {
		return nil
	}
	q := &question{scene: painted, stock: builtin, problem: painted.Problem(builtin)}
	session, err := solver.NewSession(q.problem)
	if err != nil {
		t.Fatal(err)
	}
	q.problem.Limits.FewestToBuy = toBuy
	answer, err := session.Choose(context.Background(), q.problem.Limits, q.problem.Prefer, nil)
	if err != nil {
		return nil
	}
	s, err := proofs.OfAnswer(q.scene.Title, &q.problem, session, answer)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// clasp decides a formula.
func clasp(t *testing.T, file string) string {
	t.Helper()
	stdout, _, _ := finish(t, exec.Command("clasp", file))
	for line := range strings.Lines(stdout) {
		if verdict, ok := strings.CutPrefix(line, "s "); ok {
			return strings.TrimSpace(verdict)
		}
	}
	return stdout
}
