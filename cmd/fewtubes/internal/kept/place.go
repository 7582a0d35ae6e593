package kept

import (
	"os"
	"path/filepath"
	"runtime"
)

// Place is the folder where the system keeps the data of programs, and in it ours:
// on Linux by the XDG Base Directory Specification 0.8, elsewhere where the system's
// own guides put it.
func Place() (string, error) {
	var base string
	var err error
	switch runtime.GOOS {
	case "windows":
		base, err = os.UserCacheDir() // %LocalAppData%
	case "darwin":
		base, err = os.UserConfigDir() // ~/Library/Application Support
	default:
		if base = os.Getenv("XDG_DATA_HOME"); !filepath.IsAbs(base) {
			base, err = os.UserHomeDir()
			base = filepath.Join(base, ".local", "share")
		}
	}
	return filepath.Join(base, "fewtubes"), err
}
