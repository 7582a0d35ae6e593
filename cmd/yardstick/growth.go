package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"fewtubes/solver"
)

// patience is the most processor time that a choice of the growth table may take:
// a busy machine must not cut short what an idle one would end.
const patience = 60 * time.Second

// cases of the growth table: with tubes at 30 targets, with targets at 60
// tubes, the largest the program is meant for, and with few paints in a mix, the
// third number.
var (
	byTubes   = [][3]int{{20, 30}, {60, 30}, {200, 30}, {600, 30}, {1000, 30}}
	byTargets = [][3]int{{60, 10}, {60, 30}, {60, 100}}
	goals     = [][3]int{{60, 24}, {300, 60}, {1000, 100}}
	fewPaints = [][3]int{{80, 60, 2}, {80, 60, 3}}
)

// growth measures whole choices, recipes and all, each in a process of its own.
func growth() error {
	fmt.Printf("\n%-34s %9s %9s %9s  %s\n", "a whole choice, from process start", "elapsed", "CPU", "memory", "answer")
	for _, group := range []struct {
		what  string
		of    int
		cases [][3]int
	}{{"tubes", 0, byTubes}, {"targets", 1, byTargets}, {"", 0, goals}, {"", 0, fewPaints}} {
		var x, y []float64
		for _, c := range group.cases {
			cpu, err := measure(c)
			if err != nil {
				return err
			}
			if cpu > 0 {
				x, y = append(x, math.Log(float64(c[group.of]))), append(y, math.Log(cpu.Seconds()))
			}
		}
		if group.what != "" && len(x) > 1 {
			fmt.Printf("CPU grows with %s to the power %.2f (least squares on logarithms)\n", group.what, slope(x, y))
		}
	}
	return demo()
}

// measure runs one choice and prints its line; no time says it did not end.
func measure(c [3]int) (cpu time.Duration, err error) {
	name := fmt.Sprintf("%d tubes x %d targets", c[0], c[1])
	if c[2] > 0 {
		name += fmt.Sprintf(", %d paints a mix", c[2])
	}
	self, err := os.Executable()
	if err != nil {
		return 0, err
	}
	answer, cpu, err := process(name, self, "-one", fmt.Sprintf("%dx%dx%d", c[0], c[1], c[2]))
	if err != nil {
		return 0, err
	}
	fmt.Print(string(answer))
	if cpu >= patience {
		return 0, nil
	}
	return cpu, nil
}

// demo measures the program itself on the demo scene with few paints in a mix, from
// the top of the repository.
func demo() error {
	dir, err := os.MkdirTemp("", "yardstick")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	program := filepath.Join(dir, "fewtubes")
	if out, err := exec.Command("go", "build", "-o", program, "./cmd/fewtubes").CombinedOutput(); err != nil {
		return fmt.Errorf("%w\n%s", err, out)
	}
	for paints := 2; paints <= 4; paints++ {
		name := fmt.Sprintf("the demo, %d paints a mix", paints)
		out, _, err := process(name, program, "choose", "testdata/salt-marsh.toml", "--paints-per-mix", fmt.Sprint(paints), "--json")
		if err != nil {
			return err
		}
		var answer struct {
			Minimum  struct{ Tubes int }
			Palettes []any
			Missed   []any
		}
		if err := json.Unmarshal(out, &answer); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		fmt.Printf("%d tubes, %d palettes listed, %d beyond reach\n", answer.Minimum.Tubes, len(answer.Palettes), len(answer.Missed))
	}
	return nil
}

// process runs a program and prints the line of it but for its answer.
func process(name, program string, args ...string) (answer []byte, cpu time.Duration, err error) {
	cmd := exec.Command(program, args...)
	cmd.Stderr = os.Stderr
	elapsed := timed(func() { answer, err = cmd.Output() })
	if err != nil {
		return nil, 0, fmt.Errorf("%s: %w", name, err)
	}
	state := cmd.ProcessState
	cpu = state.UserTime() + state.SystemTime()
	fmt.Printf("%-34s %9s %9s %9s  ", name, short(elapsed), short(cpu), mostMemory(state))
	return answer, cpu, nil
}

// chooseOne is the process measured.
func chooseOne(text string) error {
	var n, m, paints int
	if _, err := fmt.Sscanf(text, "%dx%dx%d", &n, &m, &paints); err != nil || n < 1 || m < 1 {
		return fmt.Errorf("-one %s: write it like 60x24x2, the last 0 for the usual number of paints in a mix", text)
	}
	p, err := scene(n, m)
	if err != nil {
		return err
	}
	p.PaintsPerMix = paints
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	go func() {
		for used() < patience {
			time.Sleep(50 * time.Millisecond)
		}
		stop()
	}()
	a, err := solver.Choose(ctx, p, nil)
	switch {
	case errors.Is(err, context.Canceled) && a != nil:
		fmt.Printf("cut short: at least %d, at most %d tubes\n", a.Minimum.AtLeast, a.Minimum.Tubes)
	case errors.Is(err, context.Canceled):
		fmt.Println("cut short without a palette")
	case err != nil:
		return err
	default:
		fmt.Printf("%d tubes, %d palettes listed, %d beyond reach, %d searches\n", a.Minimum.Tubes, len(a.Palettes), len(a.Unreachable), a.Stats.Searches)
	}
	return nil
}

// slope of the least-squares line.
func slope(x, y []float64) float64 {
	var sx, sy, sxx, sxy float64
	n := float64(len(x))
	for i := range x {
		sx, sy = sx+x[i], sy+y[i]
		sxx, sxy = sxx+x[i]*x[i], sxy+x[i]*y[i]
	}
	return (n*sxy - sx*sy) / (n*sxx - sx*sx)
}
