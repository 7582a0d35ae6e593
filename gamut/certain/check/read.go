package check

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"fewtubes/gamut/certain/tolerance"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// SyntaxError says which line of a certificate cannot be read.
type SyntaxError struct {
	Line int
	Err  error
}

func (e *SyntaxError) Error() string { return fmt.Sprintf("certificate, line %d: %v", e.Line, e.Err) }
func (e *SyntaxError) Unwrap() error { return e.Err }

// Read reads a certificate; errors other than the reader's are *SyntaxError. It
// says nothing about the proof: see Verify.
func Read(from io.Reader) (*Certificate, error) {
	lines := bufio.NewScanner(from)
	lines.Buffer(nil, 1<<20)
	r := &reader{Certificate: &Certificate{}}
	n := 0
	for lines.Scan() {
		n++
		if r.ended {
			return nil, &SyntaxError{n, errors.New("nothing may follow the end")}
		}
		if err := r.line(n, strings.Split(lines.Text(), " ")); err != nil {
			return nil, &SyntaxError{n, err}
		}
	}
	if err := lines.Err(); err != nil {
		return nil, fmt.Errorf("certificate, line %d: %w", n+1, err)
	}
	if !r.ended {
		return nil, &SyntaxError{n, errors.New("the end is missing")}
	}
	return r.Certificate, nil
}

// reader takes the lines in; stage is how far the fixed order has come.
type reader struct {
	*Certificate
	stage int
	ended bool
}

// The order of lines; those from paint on may be repeated, steps mixed.
var stages = map[string]int{
	"certificate": 0, "surface": 1, "light": 2, "target": 3, "tolerance": 4, "paint": 5, "face": 6,
	"move": 7, "cut": 7, "split": 7, "empty": 7, "end": 8,
}

func (r *reader) line(n int, words []string) error {
	stage, ok := stages[words[0]]
	switch {
	case !ok:
		return fmt.Errorf("%.20q is not a statement", words[0])
	case stage <= 4 && n != stage+1 || stage > 4 && n <= 5 || stage < r.stage:
		return fmt.Errorf("%q stands in the wrong place", words[0])
	}
	r.stage = stage
	if stage == 7 {
		step, err := readStep(words)
		r.Steps = append(r.Steps, step)
		return err
	}
	return r.statement(words[0], words[1:])
}

func (r *reader) statement(key string, words []string) error {
	switch key {
	case "certificate":
		if strings.Join(words, " ") != "unreachable 2" {
			return errors.New("only certificates of the kind \"unreachable 2\" are known")
		}
		return nil
	case "light":
		if len(words) != 1 {
			return errors.New("one name is wanted")
		}
		r.Light = words[0]
		return nil
	case "end":
		r.ended = true
		if len(words) > 0 {
			return errors.New("nothing may follow the end")
		}
		return nil
	}
	wanted := map[string]int{"surface": 2, "target": 3, "tolerance": 1, "paint": 1 + 2*colour.Bands, "face": 4}[key]
	v, err := readNumbers(words, wanted)
	if err != nil {
		return err
	}
	r.take(key, v)
	return nil
}

func (r *reader) take(key string, v []float64) {
	switch key {
	case "surface":
		r.Surface = film.Surface{K1: v[0], K2: v[1]}
	case "target":
		r.Target = colour.Lab{L: v[0], A: v[1], B: v[2]}
	case "tolerance":
		r.Tolerance = v[0]
	case "paint":
		var p film.Paint
		copy(p.K[:], v[1:])
		copy(p.S[:], v[1+colour.Bands:])
		r.Norms, r.Paints = append(r.Norms, v[0]), append(r.Paints, p)
	case "face":
		r.Faces = append(r.Faces, tolerance.Face{Normal: [3]float64(v[:3]), Height: v[3]})
	}
}

func readNumbers(words []string, wanted int) ([]float64, error) {
	if len(words) != wanted {
		return nil, fmt.Errorf("%d numbers are wanted, %d found", wanted, len(words))
	}
	out := make([]float64, wanted)
	for i, w := range words {
		var err error
		if out[i], err = readNumber(w); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// readNumber takes finite numbers only.
func readNumber(w string) (float64, error) {
	x, err := strconv.ParseFloat(w, 64)
	if err != nil || x-x != 0 {
		return 0, fmt.Errorf("%.20q is not a number", w)
	}
	return x, nil
}
