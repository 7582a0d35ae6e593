package check

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

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
	c := &Certificate{}
	err := c.read(from, func(int) {}, func(s *Step) error {
		c.Steps = append(c.Steps, *s)
		return nil
	})
	if err != nil {
		return nil, err
	}
	return c, nil
}

// read fills in the certificate but for its steps, each of which is given to step
// as it is read; count is told the bytes of each line before it is taken apart.
// Other errors than *SyntaxError are those of the reader and of step.
func (c *Certificate) read(from io.Reader, count func(bytes int), step func(*Step) error) error {
	lines := bufio.NewScanner(from)
	lines.Buffer(nil, 1<<20)
	r := &reader{Certificate: c, step: step}
	n := 0
	for lines.Scan() {
		n++
		if r.ended {
			return &SyntaxError{n, errors.New("nothing may follow the end")}
		}
		count(len(lines.Bytes()) + 1)
		if err := r.line(n, strings.Split(lines.Text(), " ")); err != nil {
			return &SyntaxError{n, err}
		}
		if r.refused != nil {
			return r.refused
		}
	}
	if err := lines.Err(); errors.Is(err, bufio.ErrTooLong) {
		return &SyntaxError{n + 1, errors.New("it is over a million characters long")}
	} else if err != nil {
		return fmt.Errorf("certificate, line %d: %w", n+1, err)
	}
	if !r.ended {
		return &SyntaxError{n, errors.New("the end is missing")}
	}
	return nil
}

// reader takes the lines in; stage is how far the fixed order has come, refused
// what step had against the last.
type reader struct {
	*Certificate
	step    func(*Step) error
	refused error
	stage   int
	ended   bool
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
		if err == nil {
			r.refused = r.step(&step)
		}
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
	return r.take(key, v)
}

// What a certificate may hold, far more than any that was ever written.
const (
	mostPaints = 5000
	mostFaces  = 1000
)

func (r *reader) take(key string, v []float64) error {
	switch key {
	case "surface":
		r.Surface = film.Surface{K1: v[0], K2: v[1]}
	case "target":
		r.Target = colour.Lab{L: v[0], A: v[1], B: v[2]}
	case "tolerance":
		r.Tolerance = v[0]
	case "paint":
		if len(r.Paints) == mostPaints {
			return fmt.Errorf("over %d paints are too many", mostPaints)
		}
		var p film.Paint
		copy(p.K[:], v[1:])
		copy(p.S[:], v[1+colour.Bands:])
		r.Norms, r.Paints = append(r.Norms, v[0]), append(r.Paints, p)
	case "face":
		if len(r.Faces) == mostFaces {
			return fmt.Errorf("over %d faces are too many", mostFaces)
		}
		r.Faces = append(r.Faces, Face{Normal: [3]float64(v[:3]), Height: v[3]})
	}
	return nil
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

// What a number may be that is not 0. The sizes of a proof lie well within; sums of
// the smallest floats take a processor many times as long.
const (
	leastNumber = 1e-60
	mostNumber  = 1e60
)

// readNumber takes finite numbers only.
func readNumber(w string) (float64, error) {
	x, err := strconv.ParseFloat(w, 64)
	switch size := math.Abs(x); {
	case err != nil || x-x != 0:
		return 0, fmt.Errorf("%.20q is not a number", w)
	case x != 0 && !(size >= leastNumber && size <= mostNumber):
		return 0, fmt.Errorf("%.20q is out of range: a number of a proof is 0 or of a size from %g to %g", w, leastNumber, mostNumber)
	}
	return x, nil
}
