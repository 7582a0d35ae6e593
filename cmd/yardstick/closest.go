package main

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os/exec"
	"time"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"

	"gonum.org/v1/gonum/optimize"
)

const (
	starts  = 8    // of the general methods
	stop    = 1e-4 // the change in CIEDE2000 at which they stop
	slack   = 0.05 // CIEDE2000 within which two answers are equal
	mixings = 48   // questions of four paints
)

// mixing is a question for the nearest mix of four paints.
type mixing struct {
	paints []int
	target colour.Lab
}

// mixingQuestions are targets in and out of reach of four built-in tubes.
func mixingQuestions() (*gamut.Mixer, []catalog.Tube, []mixing, error) {
	all, err := tubes(47)
	if err != nil {
		return nil, nil, nil, err
	}
	var paints []film.Paint
	for i := range all {
		paints = append(paints, all[i].Paint)
	}
	m, err := gamut.NewMixer(paints, gamut.Options{Surface: film.Dry})
	if err != nil {
		return nil, nil, nil, err
	}
	rng := rand.New(rand.NewPCG(8, 4))
	var out []mixing
	for i := range mixings {
		q := mixing{paints: rng.Perm(len(all))[:4]}
		from := make([]catalog.Tube, 0, 4)
		for _, p := range q.paints {
			from = append(from, all[p])
		}
		if i%2 == 1 {
			from = all
		}
		q.target = mixture(from, rng)
		out = append(out, q)
	}
	return m, all, out, nil
}

// mixOurs is the time per question and the differences found.
func mixOurs(m *gamut.Mixer, questions []mixing, effort gamut.Effort) (per time.Duration, de []float64) {
	const rounds = 20
	de = make([]float64, len(questions))
	palettes := make([]gamut.Set, len(questions))
	for i, q := range questions {
		palettes[i] = gamut.SetOf(m.Len(), q.paints...)
	}
	took := timed(func() {
		for range rounds {
			for i, q := range questions {
				de[i] = m.Closest(q.target, palettes[i], effort).DE
			}
		}
	})
	return took / time.Duration(rounds*len(questions)), de
}

// compared fills the answers of a row: theirs against ours.
func (r *row) compared(ours, theirs []float64) {
	better, equal, worst := 0, 0, 0.0
	for i, d := range theirs {
		switch {
		case ours[i] < d-slack:
			better++
		case ours[i] <= d+slack:
			equal++
		}
		worst = max(worst, ours[i]-d)
	}
	r.answers = fmt.Sprintf("of %d ours is nearer in %d, equal in %d", len(theirs), better, equal)
	if n := len(theirs) - better - equal; n > 0 {
		r.answers += fmt.Sprintf(", farther in %d by up to %.2f", n, worst)
		r.lost = true
	}
}

func besideNelderMead(effort gamut.Effort) (row, error) {
	r := row{name: fmt.Sprintf("Nelder-Mead, nearest mix, %v", effort)}
	m, all, questions, err := mixingQuestions()
	if err != nil {
		return r, err
	}
	var ours []float64
	r.ours, ours = mixOurs(m, questions, effort)
	theirs := make([]float64, len(questions))
	took := timed(func() {
		for i, q := range questions {
			theirs[i] = nelderMead(all, q, rand.New(rand.NewPCG(5, uint64(i))))
		}
	})
	r.theirs = took / time.Duration(len(questions))
	r.compared(ours, theirs)
	return r, nil
}

// nelderMead minimises over the logarithms of the shares by the plain film model.
func nelderMead(all []catalog.Tube, q mixing, rng *rand.Rand) float64 {
	paints, shares := make([]film.Paint, len(q.paints)), make([]float64, len(q.paints))
	for i, p := range q.paints {
		paints[i] = all[p].Paint
	}
	light := colour.D65()
	problem := optimize.Problem{Func: func(x []float64) float64 {
		for i := range shares {
			shares[i] = math.Exp(min(max(x[i], -30), 30))
		}
		var sum film.Paint
		film.Mix(&sum, paints, shares)
		seen := sum.Masstone(film.Dry)
		return colour.DE2000(light.Lab(&seen), q.target)
	}}
	best := math.Inf(1)
	for range starts {
		x := make([]float64, len(paints))
		for i := range x {
			x[i] = 2 * rng.NormFloat64()
		}
		settings := &optimize.Settings{Converger: &optimize.FunctionConverge{Absolute: stop, Iterations: 20}, FuncEvaluations: 2000}
		if result, err := optimize.Minimize(problem, x, settings, &optimize.NelderMead{}); result != nil && (err == nil || result.F < best) {
			best = min(best, result.F)
		}
	}
	return best
}

//go:embed slsqp.py
var slsqpScript string

// slsqpQuestion is what the script reads.
type slsqpQuestion struct {
	K      [][]float64 `json:"k"`
	S      [][]float64 `json:"s"`
	Target [3]float64  `json:"target"`
}

func besideSLSQP(effort gamut.Effort) (row, error) {
	r := row{name: fmt.Sprintf("SLSQP (SciPy), nearest mix, %v", effort)}
	python := pythonWithSciPy()
	if python == "" {
		r.missing = "SciPy is not installed: left out"
		return r, nil
	}
	m, all, questions, err := mixingQuestions()
	if err != nil {
		return r, err
	}
	questions = questions[:16]
	var ours []float64
	r.ours, ours = mixOurs(m, questions, effort)
	in, err := json.Marshal(slsqpInput(all, questions))
	if err != nil {
		return r, err
	}
	cmd := exec.Command(python, "-c", slsqpScript)
	cmd.Stdin = bytes.NewReader(in)
	printed, err := cmd.Output()
	if err != nil {
		return r, fmt.Errorf("SLSQP: %w", err)
	}
	var out struct {
		Seconds float64
		DE      []float64
	}
	if err := json.Unmarshal(printed, &out); err != nil {
		return r, fmt.Errorf("SLSQP: %w", err)
	}
	r.theirs = time.Duration(out.Seconds / float64(len(questions)) * 1e9)
	r.compared(ours, out.DE)
	return r, nil
}

func slsqpInput(all []catalog.Tube, questions []mixing) any {
	light := colour.D65()
	var asked []slsqpQuestion
	for _, q := range questions {
		s := slsqpQuestion{Target: [3]float64{q.target.L, q.target.A, q.target.B}}
		for _, p := range q.paints {
			s.K, s.S = append(s.K, all[p].Paint.K[:]), append(s.S, all[p].Paint.S[:])
		}
		asked = append(asked, s)
	}
	return map[string]any{
		"k1": film.Dry.K1, "k2": film.Dry.K2, "weights": light.Weights,
		"white":  []float64{light.White.X, light.White.Y, light.White.Z},
		"starts": starts, "stop": stop, "questions": asked,
	}
}

// pythonWithSciPy is Debian's Python, or another that has SciPy, or "".
func pythonWithSciPy() string {
	for _, python := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(python, "-c", "import scipy.optimize").Run() == nil {
			return python
		}
	}
	return ""
}
