package main

import (
	"fmt"
	"time"
)

// row compares two ways to one answer.
type row struct {
	name         string
	ours, theirs time.Duration // processor time per question
	answers      string
	lost         bool   // theirs found a better answer
	missing      string // why theirs could not be run
}

func (r row) String() string {
	if r.missing != "" {
		return fmt.Sprintf("%-34s %s", r.name, r.missing)
	}
	ratio := float64(r.theirs) / float64(r.ours)
	return fmt.Sprintf("%-34s %12s %12s %8.0fx  %s", r.name, short(r.ours), short(r.theirs), ratio, r.answers)
}

// short rounds a time to three digits.
func short(d time.Duration) string {
	unit := time.Nanosecond
	for d/unit >= 1000 {
		unit *= 10
	}
	return d.Round(unit).String()
}

// timed is how long f takes.
func timed(f func()) time.Duration {
	start := time.Now()
	f()
	return time.Since(start)
}

// spent is the processor time of f, user and system, with that of the processes
// it started and waited for: on a machine with other work to do, the time that
// passes says little.
func spent(f func()) time.Duration {
	start := used() + usedByChildren()
	f()
	return used() + usedByChildren() - start
}
