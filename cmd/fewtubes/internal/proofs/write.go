package proofs

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"fewtubes/cmd/fewtubes/internal/atomicfile"
	"fewtubes/gamut/certain/check"
	"fewtubes/solver/cutting/refute"
)

// The files of a folder.
const (
	theoremFile   = "theorem.txt"
	StatementFile = "statement.txt"
	tubesFile     = "tubes.txt"
)

func (m Minimum) formulaFile() string { return "cover-" + m.What + ".opb" }
func (m Minimum) coverFile() string   { return "cover-" + m.What + ".pbp" }
func needFile(n int) string           { return fmt.Sprintf("need-%d.txt", n+1) }
func missedFile(colour int) string    { return fmt.Sprintf("missed-%d.txt", colour+1) }

// Certificates are those of the needs and of the colours missed, by place; nil where
// there is none.
type Certificates struct{ Needs, Missed map[int]*check.Certificate }

// mostTrials are lines of a covering proof, beyond which it is left out.
const mostTrials = 20_000

// Folder is the statement and its proofs as files.
func (s *Statement) Folder(ctx context.Context, c Certificates) (*atomicfile.Folder, error) {
	f := &atomicfile.Folder{Mark: StatementFile}
	add := func(name string, write func(b *bytes.Buffer) error) error {
		var b bytes.Buffer
		err := write(&b)
		f.Files = append(f.Files, atomicfile.File{Name: name, Data: b.Bytes()})
		return err
	}
	said := func(text string) func(*bytes.Buffer) error {
		return func(b *bytes.Buffer) error { b.WriteString(text); return nil }
	}
	err := errors.Join(add(theoremFile, said(s.Words())), add(StatementFile, said(s.Text())), add(tubesFile, said(s.tubesText())))
	for i := range s.Needs {
		if made := c.Needs[i]; made != nil && err == nil {
			err = add(needFile(i), func(b *bytes.Buffer) error { return made.Write(b) })
		}
	}
	for i := range s.Colours {
		if made := c.Missed[i]; made != nil && err == nil {
			err = add(missedFile(i), func(b *bytes.Buffer) error { return made.Write(b) })
		}
	}
	for k := 0; k < len(s.Minima) && err == nil; k++ {
		formula := s.Formula(k)
		if err := add(s.Minima[k].formulaFile(), func(b *bytes.Buffer) error { return formula.WriteOPB(b) }); err != nil {
			return nil, err
		}
		proof, err := refute.Find(ctx, formula, mostTrials)
		if errors.Is(err, refute.ErrGivenUp) {
			continue // the folder says that the part is missing
		}
		if err != nil {
			return nil, err
		}
		if err := add(s.Minima[k].coverFile(), func(b *bytes.Buffer) error { return proof.Write(b, len(formula.Constraints)) }); err != nil {
			return nil, err
		}
	}
	return f, err
}

// Text is the statement as data; see the package comment.
func (s *Statement) Text() string {
	var b strings.Builder
	line := func(words ...string) { b.WriteString(strings.TrimRight(strings.Join(words, " "), " ") + "\n") }
	line("statement", "1")
	line("title", s.Title)
	line("light", s.Light)
	line("surface", digits(s.Surface.K1), digits(s.Surface.K2))
	for _, m := range s.Minima {
		line("minimised", m.What, strconv.Itoa(m.Least))
	}
	if s.Limits.Most > 0 {
		line("most", strconv.Itoa(s.Limits.Most))
	}
	if s.Limits.Budgeted {
		line("budget", strconv.Itoa(s.Limits.Budget))
	}
	for _, i := range s.Limits.Keep {
		line("keep", s.Tubes[i].ID)
	}
	for _, group := range s.Limits.Groups {
		line(append([]string{"group"}, s.IDs(group)...)...)
	}
	line("tubes", digest(s.tubesText()))
	for _, t := range s.Tubes {
		line("tube", t.ID, strconv.Itoa(t.Buy), strconv.Itoa(t.Price))
	}
	for _, c := range s.Colours {
		line("colour", stateNames[c.State], digits(c.L), digits(c.A), digits(c.B), digits(c.Tolerance), c.Name)
	}
	for _, n := range s.Needs {
		state := "search"
		if n.Proven {
			state = "proven"
		}
		line(append([]string{"need", s.Minima[n.For].What, strconv.Itoa(n.Colour + 1), state}, s.IDs(n.OneOf)...)...)
	}
	if len(s.Palette) > 0 {
		line(append([]string{"palette"}, s.IDs(s.Palette)...)...)
	}
	for i, c := range s.Colours {
		words := []string{"mix", strconv.Itoa(i + 1)}
		for _, share := range c.Mix {
			words = append(words, s.Tubes[share.Tube].ID, digits(share.Amount))
		}
		if len(c.Mix) > 0 {
			line(words...)
		}
	}
	line("end")
	return b.String()
}

func (s *Statement) tubesText() string {
	var b strings.Builder
	for i := range s.Tubes {
		t := &s.Tubes[i]
		b.WriteString("tube " + t.ID)
		for _, values := range [2][]float64{t.K[:], t.S[:]} {
			for _, x := range values {
				b.WriteString(" " + digits(x))
			}
		}
		b.WriteByte('\n')
	}
	return b.String()
}

func digest(text string) string { return fmt.Sprintf("%x", sha256.Sum256([]byte(text))) }

// digits are the fewest that name the float64.
func digits(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
