// Command yardstick measures fewtubes beside general-purpose methods for the
// same job, each pair in one run, and prints one table: exhaustive enumeration,
// Nelder-Mead (gonum), an integer programme (cbc) and SLSQP (SciPy). Then it
// says what the two engines of the chooser were asked, and measures how the work
// grows with tubes and targets, and where few paints are mixed, there the whole
// program on the demo scene too. It ends with 1 when another method finds a better
// answer.
//
// Times are processor time, user and system, of this machine in this run; only
// ratios carry over. cbc and SciPy are left out, by name, where they are not
// installed.
package main

import (
	"flag"
	"fmt"
	"os"
)

func main() {
	one := flag.String("one", "", "measure one choice, TUBESxTARGETSxPAINTS, and nothing else")
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
	fmt.Printf("%-34s %12s %12s %9s  %s\n", "ours beside, processor time", "ours", "theirs", "ratio", "answers")
	lost := false
	for _, beside := range []func() ([]row, error){
		alone(besideEnumeration), alone(besideInteger), besideNelderMead, besideSLSQP,
	} {
		rows, err := beside()
		if err != nil {
			return err
		}
		for _, r := range rows {
			fmt.Println(r)
			lost = lost || r.lost
		}
	}
	fmt.Println(closestCaption)
	if err := engines(); err != nil {
		return err
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

// alone makes a list of one row.
func alone(beside func() (row, error)) func() ([]row, error) {
	return func() ([]row, error) {
		r, err := beside()
		return []row{r}, err
	}
}
