// Command yardstick measures fewtubes beside general-purpose methods for the
// same job, each pair in one run, and prints one table: exhaustive enumeration,
// Nelder-Mead (gonum), an integer programme (cbc) and SLSQP (SciPy). Then it
// measures how the work grows with tubes and targets. It ends with 1 when
// another method finds a better answer.
//
// Times are of this machine in this run; only ratios carry over. cbc and SciPy
// are left out, by name, where they are not installed.
package main

import (
	"flag"
	"fmt"
	"os"

	"fewtubes/gamut"
)

func main() {
	one := flag.String("one", "", "measure one choice, TUBESxTARGETS, and nothing else")
	skipGrowth := flag.Bool("no-growth", false, "leave out the growth with tubes and targets")
	flag.Parse()
	if err := run(*one, *skipGrowth); err != nil {
		fmt.Fprintln(os.Stderr, "yardstick:", err)
		os.Exit(1)
	}
}

func run(one string, skipGrowth bool) error {
	if one != "" {
		return chooseOne(one)
	}
	fmt.Printf("%-34s %12s %12s %9s  %s\n", "ours beside", "ours", "theirs", "ratio", "answers")
	lost := false
	for _, beside := range []func() (row, error){
		besideEnumeration,
		besideInteger,
		func() (row, error) { return besideNelderMead(gamut.Search) },
		func() (row, error) { return besideNelderMead(gamut.Quick) },
		func() (row, error) { return besideSLSQP(gamut.Search) },
		func() (row, error) { return besideSLSQP(gamut.Quick) },
	} {
		r, err := beside()
		if err != nil {
			return err
		}
		fmt.Println(r)
		lost = lost || r.lost
	}
	if !skipGrowth {
		if err := growth(); err != nil {
			return err
		}
	}
	if lost {
		return fmt.Errorf("another method found a better answer")
	}
	return nil
}
