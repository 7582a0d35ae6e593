//go:build unix

package gamut

import (
	"syscall"
	"testing"
	"time"
)

// processor reports the processor time of a benchmark's rounds beside the time
// that passed: it is what can be compared on a machine with other work to do.
func processor(b *testing.B) (end func()) {
	start := spent()
	return func() { b.ReportMetric(float64(spent()-start)/float64(b.N), "cpu-ns/op") }
}

// spent is the processor time of this process, user and system.
func spent() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
