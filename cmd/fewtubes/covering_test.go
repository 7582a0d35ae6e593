package main

import (
	"context"
	"math/rand/v2"
	"os"
	"os/exec"
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
	refuted, lines, limited := 0, map[bool]int{}, 0
	for i, text := range scenes {
		s := minimumOf(t, builtin, text)
		if s == nil || s.Minimised == "" {
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
		if err != nil || !v.Covering || !v.Smallest {
			t.Fatalf("scene %d: %+v, %v\n%s", i, v, err, text)
		}
		if said := clasp(t); said != "UNSATISFIABLE" {
			t.Errorf("scene %d, below %d: %s", i, s.Minimum, said)
		}
		lines[strings.Count(string(read(t, "cover.pbp")), "\np ") == 1]++
		if s.Limits.Budgeted || len(s.Limits.Keep)+len(s.Limits.Groups) > 0 {
			limited++
		}
		refuted++
		s.Minimum++
		looser := s.Formula()
		var b strings.Builder
		if err = looser.WriteOPB(&b); err != nil {
			t.Fatal(err)
		}
		put(t, "cover.opb", b.String())
		if said := clasp(t); said != "SATISFIABLE" {
			t.Errorf("scene %d, at %d: %s", i, s.Minimum-1, said)
		}
	}
	t.Logf("%d of %d scenes have a minimum; %d proofs of one line, %d of more; %d under limits besides", refuted, len(scenes), lines[true], lines[false], limited)
	if refuted < 20 || limited < 8 {
		t.Error("too few")
	}
}

// minimumOf is what choose states about a scene; nil: its limits cannot be kept.
func minimumOf(t *testing.T, builtin *catalog.Catalogue, text string) *proofs.Statement {
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
	answer, err := session.Choose(context.Background(), q.problem.Limits, q.problem.Prefer, nil)
	if err != nil {
		return nil
	}
	s, err := q.minimum(session, answer)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// clasp decides the formula in the working folder.
func clasp(t *testing.T) string {
	t.Helper()
	stdout, _, _ := finish(t, exec.Command("clasp", "cover.opb"))
	for line := range strings.Lines(stdout) {
		if verdict, ok := strings.CutPrefix(line, "s "); ok {
			return strings.TrimSpace(verdict)
		}
	}
	return stdout
}
