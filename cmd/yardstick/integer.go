package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/set"
)

// besideInteger hands the selection to cbc: every mix of at most four tubes is
// tried against every target, and of those that reach it one has to be held.
func besideInteger() (row, error) {
	r := row{name: "integer programme (cbc), 20 x 12"}
	cbc, err := exec.LookPath("cbc")
	if err != nil {
		r.missing = "cbc is not installed: left out"
		return r, nil
	}
	p, err := scene(20, 12)
	if err != nil {
		return r, err
	}
	m, err := mixerOf(&p)
	if err != nil {
		return r, err
	}
	var ours, theirs int
	var targets []colour.Lab
	r.ours = spent(func() { ours, targets, err = smallest(p) })
	if err != nil {
		return r, err
	}
	dir, err := os.MkdirTemp("", "yardstick")
	if err != nil {
		return r, err
	}
	defer os.RemoveAll(dir)
	var solving error
	r.theirs = spent(func() {
		model := programme(m, targets)
		theirs, solving = solveInteger(cbc, dir, model)
	})
	r.sizes(ours, theirs)
	return r, solving
}

// supports are the least sets of at most four tubes that reach a target.
func supports(m *gamut.Mixer, target colour.Lab) (out []set.Set) {
	for size := 1; size <= 4; size++ {
		sets(m.Len(), size, func(s set.Set) bool {
			for _, less := range out {
				if less.SubsetOf(s) {
					return true
				}
			}
			if _, ok := m.Within(target, s, 3, gamut.Quick); ok {
				out = append(out, s.Clone())
			}
			return true
		})
	}
	return out
}

// programme writes the model in the LP format of the field: x per tube, y per
// target and support.
func programme(m *gamut.Mixer, targets []colour.Lab) string {
	var head, rows, kinds strings.Builder
	head.WriteString("Minimize\n obj:")
	kinds.WriteString("Binary\n")
	for i := range m.Len() {
		fmt.Fprintf(&head, " + x%d", i)
		fmt.Fprintf(&kinds, " x%d\n", i)
	}
	for t, target := range targets {
		one := ""
		for s, set := range supports(m, target) {
			y := fmt.Sprintf("y%d_%d", t, s)
			one += " + " + y
			fmt.Fprintf(&kinds, " %s\n", y)
			for _, i := range set.Members() {
				fmt.Fprintf(&rows, " r%d_%d_%d: x%d - %s >= 0\n", t, s, i, i, y)
			}
		}
		fmt.Fprintf(&rows, " t%d:%s >= 1\n", t, one)
	}
	return head.String() + "\nSubject To\n" + rows.String() + kinds.String() + "End\n"
}

func solveInteger(cbc, dir, model string) (tubes int, err error) {
	in, out := filepath.Join(dir, "model.lp"), filepath.Join(dir, "solution.txt")
	if err := os.WriteFile(in, []byte(model), 0o600); err != nil {
		return 0, err
	}
	if text, err := exec.Command(cbc, in, "solve", "solu", out).CombinedOutput(); err != nil {
		return 0, fmt.Errorf("cbc: %w: %s", err, bytes.TrimSpace(text))
	}
	solution, err := os.ReadFile(out)
	if err != nil {
		return 0, err
	}
	var value float64
	first, _, _ := strings.Cut(string(solution), "\n")
	at := strings.LastIndex(first, " ")
	if _, err := fmt.Sscan(first[at+1:], &value); err != nil || !strings.HasPrefix(first, "Optimal") {
		return 0, fmt.Errorf("cbc: %q", first)
	}
	return int(value + 0.5), nil
}
