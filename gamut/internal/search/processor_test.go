package search

import (
	"testing"

	"fewtubes/gamut/bounded"
)

// processor reports the processor time of a benchmark's rounds beside the time
// that passed: it is what can be compared on a machine with other work to do.
func processor(b *testing.B) (end func()) {
	start := bounded.ProcessorTime()
	return func() { b.ReportMetric(float64(bounded.ProcessorTime()-start)/float64(b.N), "cpu-ns/op") }
}
