// Package bounded holds the readers of outside input, in tests, to what they may
// use up and to how they may refuse.
package bounded

import (
	"runtime/metrics"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"
)

// What no input under Size may pass.
const (
	Size   = 1 << 20     // bytes
	Time   = time.Second // of processors, so that a busy machine does not count
	Memory = 256 << 20   // bytes allocated, freed or not
)

// Work runs f, which reads an input of so many bytes, and fails the test where
// it passes a bound. Time is measured again before it counts: a collection of
// garbage that others left behind may fall into a run.
func Work(t testing.TB, size int, f func()) {
	t.Helper()
	spent, taken := measure(f)
	for again := 0; spent > Time && again < 2 && size < Size; again++ {
		s, _ := measure(f)
		spent = min(spent, s)
	}
	if size < Size && spent > Time {
		t.Errorf("%d bytes took %v of processor time, bound %v", size, spent, Time)
	}
	if size < Size && taken > Memory {
		t.Errorf("%d bytes made it allocate %d MB, bound %d", size, taken>>20, Memory>>20)
	}
}

// Within runs f and fails the test where it allocates more than so many bytes.
func Within(t testing.TB, most uint64, f func()) {
	t.Helper()
	if _, taken := measure(f); taken > most {
		t.Errorf("it allocated %d bytes, bound %d", taken, most)
	}
}

func measure(f func()) (spent time.Duration, taken uint64) {
	bytes, begun := allocated(), processorTime()
	f()
	return processorTime() - begun, allocated() - bytes
}

// ProcessorTime is what this process has had of the processors.
func ProcessorTime() time.Duration { return processorTime() }

// allocated is the heap ever taken, read without stopping the program.
func allocated() uint64 {
	sample := []metrics.Sample{{Name: "/gc/heap/allocs:bytes"}}
	metrics.Read(sample)
	return sample[0].Value.Uint64()
}

// longest is the most a refusal may say, in characters.
const longest = 400

// Refusal fails the test where an error is no message a person can use: one
// line, short, of printable characters, that says each of the words given.
func Refusal(t testing.TB, err error, says ...string) {
	t.Helper()
	text := err.Error()
	switch {
	case utf8.RuneCountInString(text) > longest:
		t.Errorf("%d characters of refusal: %.500q", utf8.RuneCountInString(text), text)
	case !utf8.ValidString(text) || strings.ContainsFunc(text, unprintable):
		t.Errorf("not one line of printable text: %q", text)
	}
	for _, word := range says {
		if !strings.Contains(text, word) {
			t.Errorf("%q does not say %q", text, word)
		}
	}
}

// unprintable are line breaks, control characters and marks that turn the
// direction of writing.
func unprintable(r rune) bool {
	return unicode.IsControl(r) || unicode.In(r, unicode.Zl, unicode.Zp, unicode.Bidi_Control)
}
