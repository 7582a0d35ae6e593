package cutting

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"math/big"
	"strconv"
	"strings"
)

// LineError says which line of a proof cannot be read or does not follow.
type LineError struct {
	Line int
	Err  error
}

func (e *LineError) Error() string { return fmt.Sprintf("line %d: %v", e.Line, e.Err) }
func (e *LineError) Unwrap() error { return e.Err }

// What a proof may take, far more than any that was found here.
const (
	mostWork  = 200_000_000 // words worked with, some nanoseconds each
	mostHeld  = 1_500_000   // words of rows kept
	mostRow   = 200_000     // words of a row that is worked with
	mostWords = 40          // of a number in a line
	mostTerms = 1 << 16     // bytes of a line
)

// Verify reads a proof and reports whether it shows that nothing keeps the formula;
// nil: it does. Errors are *LineError, the reader's and the context's.
func (f *Formula) Verify(ctx context.Context, from io.Reader) error {
	lines := bufio.NewScanner(from)
	lines.Buffer(nil, mostTerms)
	c := &checker{Formula: f, ctx: ctx}
	n := 0
	for lines.Scan() {
		n++
		if err := c.line(n, lines.Text()); err != nil {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			return &LineError{n, err}
		}
	}
	switch err := lines.Err(); {
	case errors.Is(err, bufio.ErrTooLong):
		return &LineError{n + 1, fmt.Errorf("it is over %d bytes long", mostTerms)}
	case err != nil:
		return err
	case !c.done:
		return &LineError{n, errors.New("the end is missing: no constraint is named that cannot be kept")}
	}
	return nil
}

type checker struct {
	*Formula
	ctx        context.Context
	rows       []*row
	work, held int
	done       bool
}

func (c *checker) line(n int, text string) error {
	key, rest, _ := strings.Cut(text, " ")
	switch {
	case c.done:
		return errors.New("nothing may follow the end")
	case n == 1 && text != header:
		return fmt.Errorf("only proofs that begin with %q are known", header)
	case n == 1:
		return nil
	case n == 2:
		return c.load(text)
	case key == "p":
		return c.derive(strings.Split(rest, " "))
	case key == "c":
		r, err := c.numbered(rest)
		if err == nil && !r.contradicts() {
			err = errors.New("the constraint can be kept")
		}
		c.done = err == nil
		return err
	}
	return fmt.Errorf("%.20q is no line of a proof", key)
}

func (c *checker) load(text string) error {
	if text != fmt.Sprintf("f %d", len(c.Constraints)) {
		return fmt.Errorf("the formula has %d constraints", len(c.Constraints))
	}
	for i := range c.Constraints {
		r := c.Constraints[i].row(c.Variables)
		if err := c.keep(r); err != nil {
			return err
		}
	}
	return nil
}

func (c *checker) keep(r *row) error {
	if c.held += r.words(); c.held > mostHeld {
		return errors.New("it holds more than a proof may")
	}
	c.rows = append(c.rows, r)
	return nil
}

// spend counts work that is about to be done.
func (c *checker) spend(words int) error {
	if c.work += words; c.work > mostWork {
		return errors.New("it takes more work than a proof may")
	}
	return c.ctx.Err()
}

func (c *checker) numbered(word string) (*row, error) {
	n, err := strconv.Atoi(word)
	if err != nil || n < 1 || n > len(c.rows) {
		return nil, fmt.Errorf("%.20q is the number of no constraint", word)
	}
	return c.rows[n-1], nil
}

// derive works out a new constraint.
func (c *checker) derive(words []string) error {
	var stack []*row
	for i := 0; i < len(words); i++ {
		takes := 1
		var r *row
		var err error
		next := ""
		if i+1 < len(words) {
			next = words[i+1]
		}
		switch w := words[i]; {
		case w == "+" && len(stack) >= 2:
			a, b := stack[len(stack)-2], stack[len(stack)-1]
			if err = c.spend(a.words() + b.words()); err == nil {
				r, takes = a.plus(b), 2
			}
		case w == "s" && len(stack) >= 1:
			if err = c.spend(3 * stack[len(stack)-1].words()); err == nil {
				r = stack[len(stack)-1].saturated()
			}
		case (next == "*" || next == "d") && len(stack) >= 1:
			r, err = c.scaled(stack[len(stack)-1], w, next)
			i++
		default:
			r, err = c.named(w)
			takes = 0
		}
		if err != nil {
			return err
		}
		if stack = append(stack[:len(stack)-takes], r); len(stack) > mostStacked || r.words() > mostRow {
			return errors.New("it holds more than a proof may")
		}
	}
	if len(stack) != 1 {
		return errors.New("it does not come to one constraint")
	}
	return c.keep(stack[0])
}

const mostStacked = 16

// scaled is a multiple or a quotient of a row.
func (c *checker) scaled(r *row, word, op string) (*row, error) {
	n, ok := new(big.Int).SetString(word, 10)
	if !ok || n.Sign() <= 0 || n.BitLen() > 64*mostWords {
		return nil, fmt.Errorf("%.20q is no number above 0", word)
	}
	if err := c.spend(r.words() * (2 + n.BitLen()/64)); err != nil {
		return nil, err
	}
	if op == "d" {
		return r.divided(n), nil
	}
	return r.multiple(n), nil
}

// named is a constraint by its number, or what holds of a literal.
func (c *checker) named(word string) (*row, error) {
	name, isLiteral := strings.CutPrefix(strings.TrimPrefix(word, "~"), "x")
	if !isLiteral {
		return c.numbered(word)
	}
	v, err := strconv.Atoi(name)
	if err != nil || v < 1 || v > c.Variables {
		return nil, fmt.Errorf("%.20q is no literal", word)
	}
	return literal(c.Variables, v, word[0] == '~'), c.spend(c.Variables)
}
