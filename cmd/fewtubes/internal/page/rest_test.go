package page

import (
	"fmt"
	"os"
	"path/filepath"
	"time"
)

// atRest is the share of the time its threads could have run, and had to wait for
// a processor, up to which the clock is a fair measure of this process. The threads
// of the long run alone wait a tenth of the time for each other.
const atRest = 0.2

// pressure is what the threads of this process had of the processors, and what they
// waited for one while ready to run (Linux, Documentation/scheduler/sched-stats.rst);
// zero where the system does not tell.
type pressure struct{ ran, waited time.Duration }

func pressed() (p pressure) {
	threads, _ := filepath.Glob("/proc/self/task/*/schedstat")
	for _, file := range threads {
		var ran, waited int64
		if text, err := os.ReadFile(file); err == nil {
			if n, _ := fmt.Sscan(string(text), &ran, &waited); n == 2 {
				p.ran, p.waited = p.ran+time.Duration(ran), p.waited+time.Duration(waited)
			}
		}
	}
	return p
}

// since is how much of its time the process waited from then on, 0..1; where it is
// not known, all of it.
func (p pressure) since() float64 {
	now := pressed()
	ran, waited := now.ran-p.ran, now.waited-p.waited
	if ran <= 0 {
		return 1
	}
	return float64(waited) / float64(ran+waited)
}
