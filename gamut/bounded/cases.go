package bounded

import (
	"os"
	"testing"
)

// Cases is how many of its seeded cases a test takes: few, or all of them where
// FEWTUBES_LONG is set (`make long`). What has to come of so many of them, say, that
// most are answered, is scaled by the same count.
func Cases(t testing.TB, few, all int) int {
	t.Helper()
	if os.Getenv("FEWTUBES_LONG") == "" {
		return few
	}
	return all
}

// Long skips what only `make long` does: to measure, or to go once more the way that
// another test goes.
func Long(t testing.TB) {
	t.Helper()
	if os.Getenv("FEWTUBES_LONG") == "" {
		t.Skip("FEWTUBES_LONG asks for it")
	}
}
