package cutting

import (
	"bufio"
	"fmt"
	"io"
)

// Formula is what the variables 1 to Variables should keep.
type Formula struct {
	Variables   int
	Constraints []Constraint
}

// Constraint asks that the sum of the terms is at least so much. Any number of
// Notes say in the file what it is for, a line each.
type Constraint struct {
	Terms   []Term // by variable, each once
	AtLeast int
	Note    string
}

// Term is a variable, from 1, so many times.
type Term struct{ Times, Variable int }

// WriteOPB writes the formula as OPB.
func (f *Formula) WriteOPB(to io.Writer) error {
	w := bufio.NewWriter(to)
	fmt.Fprintf(w, "* #variable= %d #constraint= %d\n", f.Variables, len(f.Constraints))
	for i, c := range f.Constraints {
		if c.Note != "" {
			fmt.Fprintf(w, "* %d: %s\n", i+1, c.Note)
		}
		for _, t := range c.Terms {
			fmt.Fprintf(w, "%+d x%d ", t.Times, t.Variable)
		}
		fmt.Fprintf(w, ">= %d ;\n", c.AtLeast)
	}
	return w.Flush()
}

// Keeps reports whether a choice of variables keeps every constraint.
func (f *Formula) Keeps(holds func(variable int) bool) bool {
	for _, c := range f.Constraints {
		sum := 0
		for _, t := range c.Terms {
			if holds(t.Variable) {
				sum += t.Times
			}
		}
		if sum < c.AtLeast {
			return false
		}
	}
	return true
}

// Refutation is a proof that nothing keeps a formula: lines of terms, each a
// constraint, the last of which cannot be kept.
type Refutation []string

// Write writes the proof about a formula of so many constraints.
func (r Refutation) Write(to io.Writer, constraints int) error {
	w := bufio.NewWriter(to)
	fmt.Fprintf(w, "%s\nf %d\n", header, constraints)
	for _, line := range r {
		fmt.Fprintf(w, "p %s\n", line)
	}
	fmt.Fprintf(w, "c %d\n", constraints+len(r))
	return w.Flush()
}

const header = "pseudo-Boolean proof version 1.2"
