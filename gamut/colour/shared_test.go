package colour

import (
	"os"
	"path/filepath"
	"testing"
)

// readings is a file of the optional readings folder, FEWTUBES_SHARED or
// ../shared beside the repository; ok is false where it is not at hand, and the
// test then rests on its committed figures alone.
func readings(t testing.TB, name string) (path string, ok bool) {
	t.Helper()
	dir := os.Getenv("FEWTUBES_SHARED")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared")
	}
	path = filepath.Join(dir, "data", name)
	if _, err := os.Stat(path); err != nil {
		t.Logf("%s is not at hand: checked against the committed figures alone", name)
		return "", false
	}
	return path, true
}
