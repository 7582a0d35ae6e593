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
