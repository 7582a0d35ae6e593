package portable

import (
	"io/fs"
	"os"
	"regexp"
	"strings"
	"testing"
)

// What has a portable form is not taken from package math or from gonum in the
// program; tests, the demo's painter and the comparison of methods may.
func TestTheRestOfTheProgramUsesThese(t *testing.T) {
	elsewhere := regexp.MustCompile(`\bmath\.(Exp|Exp2|Expm1|Log|Log10|Log1p|Log2|Pow|Cbrt|Hypot|A?(Sin|Cos|Tan)h?|Sincos|Atan2)\(|"gonum\.org/v1/gonum/`)
	files := 0
	top := os.DirFS("../..")
	for _, room := range []string{"catalog", "cmd", "gamut", "solver"} {
		err := fs.WalkDir(top, room, func(path string, d fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return err
			case path == "gamut/portable" || path == "cmd/yardstick" || path == "cmd/fewtubes/internal/saltmarsh":
				return fs.SkipDir
			case d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go"):
				return nil
			}
			text, err := fs.ReadFile(top, path)
			if err != nil {
				return err
			}
			files++
			for _, found := range elsewhere.FindAllString(string(text), -1) {
				t.Errorf("%s: %s", path, found)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if files < 100 {
		t.Errorf("only %d files were read", files)
	}
}
