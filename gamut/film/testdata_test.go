package film

import (
	"os"
	"path/filepath"
	"testing"
)

// sharedFolder holds the published readings; tests that need them are skipped
// where it is not.
func sharedFolder(t testing.TB) string {
	dir := os.Getenv("FEWTUBES_SHARED")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared")
	}
	dir = filepath.Join(dir, "data")
	if _, err := os.Stat(dir); err != nil {
		t.Skip("the published readings are not here; the committed figures are checked instead")
	}
	return dir
}
