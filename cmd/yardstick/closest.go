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
	"fewtubes/gamut/set"

	"gonum.org/v1/gonum/optimize"
)

const (
	starts  = 8    // of each method
	stop    = 1e-4 // the change in CIEDE2000 at which a start ends, ours too
	slack   = 0.01 // CIEDE2000 within which two answers are equal
	mixings = 48   // questions of four paints
)

// method is a way of ours to the nearest mix.
type method struct {
	name    string
	closest func(*gamut.Mixer, colour.Lab, set.Set) gamut.Mix
}

func methods() []method {
	by := func(e gamut.Effort) method {
		return method{"our effort " + e.String(), func(m *gamut.Mixer, target colour.Lab, palette set.Set) gamut.Mix {
			return m.Closest(target, palette, e)
		}}
	}
	eight := func(m *gamut.Mixer, target colour.Lab, palette set.Set) gamut.Mix {
		return m.ClosestFrom(target, palette, starts)
	}
	return []method{{fmt.Sprint(starts, " starts each"), eight}, by(gamut.Search), by(gamut.Quick)}
}

// closestCaption says what the rows of the nearest mix compare.
var closestCaption = fmt.Sprintf(`Nearest mix of four paints, half of the targets within reach of them: Nelder-Mead of gonum on the logarithms of the shares,
SLSQP of SciPy on the shares, vectorised over the bands, with slopes by differences, each from %d random starts, the best kept.
"%[1]d starts each": ours from %[1]d pairs of its bank, without early end. A start ends, for all three, when the difference to the
target changes by less than %g: ours when the next step promises less, the simplex over 20 iterations, SLSQP by its ftol. At an
effort, ours chooses how many starts to make. Filling the bank once for all questions is not counted. Equal: within %g.`, starts, stop, slack)

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
func mixOurs(m *gamut.Mixer, questions []mixing, by method) (per time.Duration, de []float64) {
	const rounds = 20
	de = make([]float64, len(questions))
	palettes := make([]set.Set, len(questions))
	for i, q := range questions {
		palettes[i] = set.Of(m.Len(), q.paints...)
	}
	ask := func() {
		for i, q := range questions {
			de[i] = by.closest(m, q.target, palettes[i]).DE
		}
	}
	ask() // fills the bank
	took := spent(func() {
		for range rounds {
			ask()
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

func besideNelderMead() ([]row, error) {
	m, all, questions, err := mixingQuestions()
	if err != nil {
		return nil, err
	}
	theirs := make([]float64, len(questions))
	took := spent(func() {
		for i, q := range questions {
			theirs[i] = nelderMead(all, q, rand.New(rand.NewPCG(5, uint64(i))))
		}
	})
	return mixRows("Nelder-Mead", m, questions, took/time.Duration(len(questions)), theirs), nil
}

// mixRows are each of our methods beside one of theirs.
func mixRows(name string, m *gamut.Mixer, questions []mixing, per time.Duration, theirs []float64) (rows []row) {
	for _, by := range methods() {
		r := row{name: name + ", " + by.name, theirs: per}
		var ours []float64
		r.ours, ours = mixOurs(m, questions, by)
		r.compared(ours, theirs)
		rows = append(rows, r)
	}
	return rows
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

func besideSLSQP() ([]row, error) {
	python := pythonWithSciPy()
	if python == "" {
		return []row{{name: "SLSQP", missing: "SciPy is not installed: left out"}}, nil
	}
	m, all, questions, err := mixingQuestions()
	if err != nil {
		return nil, err
	}
	in, err := json.Marshal(slsqpInput(all, questions))
	if err != nil {
		return nil, err
	}
	cmd := exec.Command(python, "-c", slsqpScript)
	cmd.Stdin = bytes.NewReader(in)
	printed, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("SLSQP: %w", err)
	}
	var out struct {
		Seconds float64
		DE      []float64
	}
	if err := json.Unmarshal(printed, &out); err != nil {
		return nil, fmt.Errorf("SLSQP: %w", err)
	}
	per := time.Duration(out.Seconds / float64(len(questions)) * 1e9)
	return mixRows("SLSQP", m, questions, per, out.DE), nil
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
