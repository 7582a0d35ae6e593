package refute

import (
	"context"
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"fewtubes/solver/cutting"
)

// ErrKept is what ends a search when some choice keeps the formula.
var ErrKept = errors.New("refute: the formula can be kept")

// ErrGivenUp is what ends a search after too many trials.
var ErrGivenUp = errors.New("refute: given up")

// Find is a proof that nothing keeps the formula, of at most so many lines. Errors
// are ErrKept, ErrGivenUp and the context's.
func Find(ctx context.Context, f *cutting.Formula, most int) (cutting.Refutation, error) {
	s := &search{Formula: f, ctx: ctx, most: most, value: make([]int8, f.Variables+1)}
	s.times = make([][]int, len(f.Constraints))
	for i, c := range f.Constraints {
		s.times[i] = make([]int, f.Variables+1)
		for _, t := range c.Terms {
			s.times[i][t.Variable] = t.Times
		}
	}
	if _, err := s.refute(); err != nil {
		return nil, err
	}
	return s.proof, nil
}

// Multipliers are of each constraint but the last of a cover: with them no variable
// counts more than most times its weight, and they ask for Sum together; nil where
// that is not beyond the last constraint.
type Multipliers struct {
	Times     []int
	Most, Sum int
}

// Count are the multipliers of a proof of one line; nil: it takes trials, or numbers
// that are too large to be read.
func Count(ctx context.Context, f *cutting.Formula) (*Multipliers, error) {
	proof, err := Find(ctx, f, 1)
	if errors.Is(err, ErrGivenUp) || errors.Is(err, ErrKept) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	m := &Multipliers{Times: make([]int, len(f.Constraints)-1)}
	words := strings.Fields(proof[0])
	for i := 0; i < len(words); i++ {
		at, times := 0, 1
		if _, err := fmt.Sscan(words[i], &at); err != nil {
			continue
		}
		if i+2 < len(words) && words[i+2] == "*" {
			if _, err := fmt.Sscan(words[i+1], &times); err != nil {
				return nil, nil
			}
			i += 2
		}
		if at == len(f.Constraints) {
			m.Most = times
		} else {
			m.Times[at-1] = times
			m.Sum += times * f.Constraints[at-1].AtLeast
		}
	}
	return m, nil
}

// Values of a variable.
const (
	free int8 = iota
	zero
	one
)

type search struct {
	*cutting.Formula
	ctx   context.Context
	most  int
	times [][]int // by constraint, then by variable
	value []int8  // by variable, that is tried
	proof cutting.Refutation
}

// clause is a constraint that says that not all of some trials hold.
type clause struct {
	number int   // of the constraint
	trials []int // variables
}

// refute closes the formula under the values that are tried.
func (s *search) refute() (clause, error) {
	if len(s.proof) >= s.most {
		return clause{}, ErrGivenUp
	}
	r, err := s.relax()
	if err != nil {
		return clause{}, err
	}
	if r.by != nil {
		return s.close(r.by), nil
	}
	if r.divide == 0 {
		return clause{}, ErrKept
	}
	v := r.divide
	defer func() { s.value[v] = free }()
	var halves [2]clause
	for i, value := range []int8{one, zero} {
		s.value[v] = value
		if halves[i], err = s.refute(); err != nil || !slices.Contains(halves[i].trials, v) {
			return halves[i], err
		}
	}
	return s.resolve(halves, v), nil
}

// relaxed is what a linear programme says: by what multiples of the constraints the
// trials are closed, or else which variable to try next (0: it found a choice).
type relaxed struct {
	by     []*big.Int
	divide int
}

func (s *search) relax() (*relaxed, error) {
	last := len(s.Constraints) - 1
	p, columns := &programme{}, s.columns()
	for i := range last {
		p.gain = append(p.gain, s.left(i))
	}
	for _, v := range columns {
		var use []*big.Rat
		for i := range last {
			use = append(use, big.NewRat(int64(s.times[i][v]), 1))
		}
		p.use, p.room = append(p.use, use), append(p.room, big.NewRat(int64(-s.times[last][v]), 1))
	}
	found, err := p.solve(s.ctx)
	if err != nil {
		return nil, err
	}
	// The last constraint once; nothing of it where the others cannot be kept.
	once := big.NewRat(1, 1)
	if found.gain == nil {
		once.SetInt64(0)
	} else if new(big.Rat).Add(found.gain, s.left(last)).Sign() <= 0 {
		return &relaxed{divide: dividing(columns, found.price)}, nil
	}
	return &relaxed{by: whole(append(found.y, once))}, nil
}

// left is what a constraint still asks for.
func (s *search) left(i int) *big.Rat {
	n := s.Constraints[i].AtLeast
	for v, value := range s.value {
		if value == one {
			n -= s.times[i][v]
		}
	}
	return big.NewRat(int64(n), 1)
}

// columns are the free variables, but for those which another outdoes: what holds of
// that one holds of them.
func (s *search) columns() (out []int) {
	for v := 1; v <= s.Variables; v++ {
		if s.value[v] != free {
			continue
		}
		outdone := false
		for other := 1; other <= s.Variables && !outdone; other++ {
			outdone = other != v && s.value[other] == free && s.outdoes(other, v) && (other < v || !s.outdoes(v, other))
		}
		if !outdone {
			out = append(out, v)
		}
	}
	return out
}

func (s *search) outdoes(other, v int) bool {
	for _, times := range s.times {
		if times[other] < times[v] {
			return false
		}
	}
	return true
}

// dividing is the variable that is nearest to half taken; 0: none is taken in part.
func dividing(columns []int, taken []*big.Rat) int {
	best, least := 0, new(big.Rat)
	for j, v := range columns {
		if taken[j].IsInt() {
			continue
		}
		off := new(big.Rat).Sub(taken[j], big.NewRat(1, 2))
		if off.Abs(off); best == 0 || off.Cmp(least) < 0 {
			best, least = v, off
		}
	}
	return best
}

// whole are the least whole numbers in the same ratio.
func whole(y []*big.Rat) []*big.Int {
	times, common := big.NewInt(1), new(big.Int)
	for _, x := range y {
		common.GCD(nil, nil, times, x.Denom())
		times.Mul(times, new(big.Int).Quo(x.Denom(), common))
	}
	out, divisor := make([]*big.Int, len(y)), new(big.Int)
	for i, x := range y {
		out[i] = new(big.Int).Mul(x.Num(), new(big.Int).Quo(times, x.Denom()))
		divisor.GCD(nil, nil, divisor, out[i])
	}
	for _, n := range out {
		n.Quo(n, divisor)
	}
	return out
}

// close writes down why the trials cannot hold: the sum of multiples of the
// constraints, in which what is not false by trial is counted in full, so that some
// trial must be wrong.
func (s *search) close(by []*big.Int) clause {
	var words []string
	degree, sum := new(big.Int), make([]*big.Int, s.Variables+1)
	for v := range sum {
		sum[v] = new(big.Int)
	}
	product := new(big.Int)
	for i, n := range by {
		if n.Sign() == 0 {
			continue
		}
		words = plus(words, fmt.Sprint(i+1), n)
		degree.Add(degree, product.Mul(n, big.NewInt(int64(s.Constraints[i].AtLeast))))
		for v, times := range s.times[i] {
			sum[v].Add(sum[v], product.Mul(n, big.NewInt(int64(times))))
		}
	}
	c := clause{}
	var others []string
	for v := 1; v <= s.Variables; v++ {
		falsified := s.value[v] == one && sum[v].Sign() < 0 || s.value[v] == zero && sum[v].Sign() > 0
		switch size := new(big.Int).Abs(sum[v]); {
		case sum[v].Sign() == 0:
			continue
		case falsified:
			c.trials = append(c.trials, v)
			if sum[v].Sign() < 0 {
				degree.Add(degree, size)
			}
		case sum[v].Sign() > 0: // of the degree as much is counted as the literal gives
			others = plus(others, "~x"+fmt.Sprint(v), size)
			degree.Sub(degree, size)
		default:
			others = plus(others, "x"+fmt.Sprint(v), size)
		}
	}
	if len(c.trials) > 0 {
		words = append(joined(words, others), "s")
		if degree.Cmp(big.NewInt(1)) > 0 {
			words = append(words, degree.String(), "d")
		}
	}
	return s.write(c, words)
}

// plus adds a multiple to what is written.
func plus(words []string, name string, n *big.Int) []string {
	first := len(words) == 0
	words = append(words, name)
	if n.Cmp(big.NewInt(1)) != 0 {
		words = append(words, n.String(), "*")
	}
	if !first {
		words = append(words, "+")
	}
	return words
}

// joined adds two sums.
func joined(words, others []string) []string {
	if len(others) == 0 {
		return words
	}
	return append(append(words, others...), "+")
}

func (s *search) write(c clause, words []string) clause {
	s.proof = append(s.proof, strings.Join(words, " "))
	c.number = len(s.Constraints) + len(s.proof)
	return c
}

// resolve makes one clause of two that differ in a trial.
func (s *search) resolve(halves [2]clause, v int) clause {
	c := clause{}
	for _, half := range halves {
		for _, t := range half.trials {
			if t != v && !slices.Contains(c.trials, t) {
				c.trials = append(c.trials, t)
			}
		}
	}
	return s.write(c, []string{fmt.Sprint(halves[0].number), fmt.Sprint(halves[1].number), "+", "s"})
}
