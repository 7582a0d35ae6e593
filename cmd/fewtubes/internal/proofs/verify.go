package proofs

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/infile"
	"fewtubes/gamut/certain/check"
	"fewtubes/solver/cutting"
)

// Verdict is what of a statement is proven.
type Verdict struct {
	*Statement
	Missing     []string // what is not, in words; empty: all is
	Worded      bool     // the theorem in words is there
	NeedsHold   []bool   // by need
	ColoursHold []bool   // by colour: what its state says
	Covering    []bool   // by minimum: no palette below it meets all needs for it
	Smallest    bool     // the palette keeps the limits and comes to the minima
}

// Proven reports whether what the folder is for is proven: its minimum, or where it
// states none, every miss. A minimum is about the colours that are reached; those that
// a search left out for all the tubes have no say in it.
func (v *Verdict) Proven() bool {
	holds := func(states ...State) bool {
		for i, c := range v.Colours {
			if slices.Contains(states, c.State) && !v.ColoursHold[i] {
				return false
			}
		}
		return true
	}
	if len(v.Minima) == 0 {
		return v.Worded && holds(Missed, Searched)
	}
	return v.Worded && !slices.Contains(v.Covering, false) && v.Smallest && !slices.Contains(v.NeedsHold, false) && holds(Reached, Open, Missed)
}

const mostStatement = 1 << 20 // bytes

// folder reads the files of a folder.
type folder struct {
	path string
	left int64 // bytes that may be read
}

// file reads one; ok is false where it is not there. Errors are *Error.
func (f *folder) file(name string, most int64) (text []byte, ok bool, err error) {
	path := filepath.Join(f.path, name)
	info, err := os.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, false, nil
	case err != nil:
		return nil, false, &Error{name, 0, reason(err)}
	case !info.Mode().IsRegular():
		return nil, false, &Error{name, 0, errors.New("it is no file")}
	}
	most = min(most, f.left)
	text, err = infile.Read(path, most)
	if err != nil {
		return nil, false, &Error{name, 0, reason(err)}
	}
	if int64(len(text)) > most {
		return nil, false, &Error{name, 0, fmt.Errorf("with it the folder is too large to be verified: over %d MB, or %d MB of a statement", MostBytes>>20, mostStatement>>20)}
	}
	f.left -= int64(len(text))
	return text, true, nil
}

func reason(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}

// Verify verifies a folder. watch is told how many certificates are done. Errors, of
// what is broken, are *Error; what is only missing is told in the verdict.
func Verify(ctx context.Context, path string, watch func(done, all int)) (*Verdict, error) {
	f := &folder{path, MostBytes}
	s, err := f.statement()
	if err != nil {
		return nil, err
	}
	v := &Verdict{Statement: s, Covering: make([]bool, len(s.Minima)), NeedsHold: make([]bool, len(s.Needs)), ColoursHold: make([]bool, len(s.Colours))}
	switch words, ok, err := f.file(theoremFile, mostStatement); {
	case err != nil:
		return nil, err
	case !ok:
		v.miss("the theorem in words (%s) is missing", theoremFile)
	case string(words) != s.Words():
		return nil, &Error{theoremFile, 0, errors.New("the words are not what the statement says")}
	default:
		v.Worded = true
	}
	for k := range s.Minima {
		if err := v.covering(ctx, f, k); err != nil {
			return nil, err
		}
	}
	if v.Smallest = v.smallest(); len(s.Minima) > 0 && !v.Smallest {
		return nil, &Error{StatementFile, 0, errors.New("the palette does not come to the minimum within the limits")}
	}
	v.reached()
	return v, v.certificates(ctx, f, watch)
}

func (v *Verdict) miss(format string, args ...any) {
	v.Missing = append(v.Missing, fmt.Sprintf(format, args...))
}

// statement reads the statement and the tubes it is about.
func (f *folder) statement() (*Statement, error) {
	text, ok, err := f.file(StatementFile, mostStatement)
	if err != nil {
		return nil, err
	}
	if !ok {
		return nil, &Error{StatementFile, 0, errors.New("it is missing, so that nothing is stated")}
	}
	s, wanted, err := parse(string(text))
	if err != nil {
		return nil, err
	}
	tubes, ok, err := f.file(tubesFile, MostBytes)
	switch {
	case err != nil:
		return nil, err
	case !ok:
		return nil, &Error{tubesFile, 0, errors.New("it is missing, so that nobody knows what the tubes are")}
	case digest(string(tubes)) != wanted:
		return nil, &Error{tubesFile, 0, errors.New("it is not the file that the statement is about: their digests differ")}
	}
	if err := s.parsePaints(string(tubes)); err != nil {
		return nil, err
	}
	if s.Text() != string(text) {
		return nil, &Error{StatementFile, 0, errors.New("it is not written as a statement is")}
	}
	for i := range s.Colours {
		of := []int{0}
		if i == 0 {
			of = s.every()
		}
		claim := s.claim(i, of)
		if err := claim.Sane(); err != nil {
			return nil, &Error{StatementFile, 0, fmt.Errorf("colour %d: %w", i+1, err)}
		}
	}
	return s, nil
}

// covering verifies that no palette below the minimum at place k meets the needs for it.
func (v *Verdict) covering(ctx context.Context, f *folder, k int) error {
	formula := v.Formula(k)
	formulaFile, coverFile := v.Minima[k].formulaFile(), v.Minima[k].coverFile()
	var wanted bytes.Buffer
	if err := formula.WriteOPB(&wanted); err != nil {
		return err
	}
	switch text, ok, err := f.file(formulaFile, MostBytes); {
	case err != nil:
		return err
	case !ok:
		v.miss("the covering argument as a formula (%s) is missing", formulaFile)
	case !bytes.Equal(text, wanted.Bytes()):
		return &Error{formulaFile, 0, errors.New("it is not the covering argument of the statement")}
	default:
		proof, ok, err := f.file(coverFile, MostBytes)
		if err != nil {
			return err
		}
		if !ok {
			v.miss("the proof that no palette below the minimum meets every need (%s) is missing", coverFile)
			break
		}
		if err := formula.Verify(ctx, bytes.NewReader(proof)); err != nil {
			return v.broken(ctx, coverFile, err)
		}
		v.Covering[k] = true
	}
	return nil
}

func (v *Verdict) smallest() bool {
	for _, m := range v.Minima {
		if v.comesTo(m, v.Palette) != m.Least {
			return false
		}
	}
	return len(v.Palette) > 0 && v.keeps()
}

// keeps reports whether the palette keeps the limits.
func (v *Verdict) keeps() bool {
	l, price := &v.Limits, 0
	for _, i := range v.Palette {
		price += v.Tubes[i].Price
	}
	holds := func(i int) bool {
		_, is := slices.BinarySearch(v.Palette, i)
		return is
	}
	for _, i := range l.Keep {
		if !holds(i) {
			return false
		}
	}
	for _, group := range l.Groups {
		held := 0
		for _, i := range group {
			if holds(i) {
				held++
			}
		}
		if held > 1 {
			return false
		}
	}
	return (l.Most == 0 || len(v.Palette) <= l.Most) && (!l.Budgeted || price <= l.Budget)
}

// reached verifies the mixes.
func (v *Verdict) reached() {
	for i := range v.Colours {
		c := &v.Colours[i]
		if c.State != Reached {
			continue
		}
		var tubes []int
		var amounts []float64
		within := true
		for _, share := range c.Mix {
			tubes, amounts = append(tubes, share.Tube), append(amounts, share.Amount)
			within = within && (len(v.Minima) == 0 || slices.Contains(v.Palette, share.Tube))
		}
		claim := v.claim(i, tubes)
		if v.ColoursHold[i] = within && claim.Reaches(amounts); !v.ColoursHold[i] {
			v.miss("that %s is reached is not proven", c.Name)
		}
	}
}

// certificates verifies the needs and the misses. What a certificate claims is looked
// at before its proof.
func (v *Verdict) certificates(ctx context.Context, f *folder, watch func(done, all int)) error {
	todo := v.wanted()
	at := 0
	var trouble error // in reading the next file
	next := func() ([]byte, bool) {
		for trouble == nil && at < len(todo) {
			text, ok, err := f.file(todo[at].file, MostBytes)
			switch {
			case err != nil:
				trouble = err
			case !ok:
				v.miss("%s is missing: the proof that %s", todo[at].file, todo[at].says)
				todo = slices.Delete(todo, at, at+1)
			default:
				trouble = v.claims(&todo[at], text)
				at++
				return text, trouble == nil
			}
		}
		return nil, false
	}
	for i, got := range Check(ctx, next) {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := got.Err; err != nil {
			return v.broken(ctx, todo[i].file, err)
		}
		*todo[i].proven = true
		watch(i+1, len(todo))
	}
	return trouble
}

// claims reports whether a certificate says what a part wants of it.
func (v *Verdict) claims(p *part, text []byte) error {
	head := text
	for _, key := range []string{"\nface ", "\nmove ", "\ncut ", "\nsplit ", "\nempty ", "\nend"} {
		head, _, _ = bytes.Cut(head, []byte(key))
	}
	c, err := check.Read(io.MultiReader(bytes.NewReader(head), strings.NewReader("\nend\n")))
	var syntax *check.SyntaxError
	if errors.As(err, &syntax) {
		return &Error{p.file, syntax.Line, syntax.Err}
	}
	if !same(&c.Claim, v.claim(p.colour, p.tubes())) {
		return &Error{p.file, 0, fmt.Errorf("it is not about what the statement says: that %s", p.says)}
	}
	return nil
}

// part is something that a certificate proves.
type part struct {
	file   string
	says   string
	colour int
	tubes  func() []int
	proven *bool
}

// wanted are the parts that certificates prove; what needs none is settled.
func (v *Verdict) wanted() (out []part) {
	for i := range v.Needs {
		n := &v.Needs[i]
		says := v.needWords(n)
		switch {
		case len(n.OneOf) == len(v.Tubes): // of nothing no mix can be made
			v.NeedsHold[i] = true
		case !n.Proven:
			v.miss("that %s rests on a search", says)
		default:
			out = append(out, part{needFile(i), says, n.Colour, func() []int { return v.others(n) }, &v.NeedsHold[i]})
		}
	}
	for i := range v.Colours {
		c := &v.Colours[i]
		says := c.Name + " is out of reach"
		switch c.State {
		case Searched:
			v.miss("that %s rests on a search", says)
		case Missed:
			out = append(out, part{missedFile(i), says, i, v.every, &v.ColoursHold[i]})
		case Open:
			v.miss("nothing is said of %s", c.Name)
		}
	}
	return out
}

// same reports whether a certificate says what is wanted of it: a wider tolerance
// says more.
func same(got *check.Claim, want check.Claim) bool {
	return got.Light == want.Light && got.Surface == want.Surface && got.Target == want.Target && got.Tolerance >= want.Tolerance &&
		slices.Equal(got.Paints, want.Paints)
}

// broken says in which file a proof does not hold.
func (v *Verdict) broken(ctx context.Context, file string, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	var syntax *check.SyntaxError
	if errors.As(err, &syntax) {
		return &Error{file, syntax.Line, syntax.Err}
	}
	var line *cutting.LineError
	if errors.As(err, &line) {
		return &Error{file, line.Line, line.Err}
	}
	return &Error{file, 0, err}
}
