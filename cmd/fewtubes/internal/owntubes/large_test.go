package owntubes

import (
	"strings"
	"testing"

	"fewtubes/gamut/bounded"
)

// Files just under the size that counts, of many small entries.
func TestLargeFiles(t *testing.T) {
	c := builtin(t)
	bounded.Large(t, map[string]string{
		"tubes":   "format = 1\n" + bounded.Many(20_000, "[[tube]]\nid = \"t%d\"\nlike = \"viridian\"\n"),
		"parts":   "format = 1\n[[tube]]\nid = \"t\"\nmix = [" + bounded.Many(25_000, "{tube = \"viridian\", parts = 1%d},") + "]\n",
		"hazards": "format = 1\n[[tube]]\nlike = \"viridian\"\nhazards = [" + strings.Repeat("\"lead\", ", 90_000) + "]\n",
		"values":  "format = 1\n[[tube]]\nid = \"t\"\nk = [" + strings.Repeat("1.0,", 200_000) + "]\ns = []\n",
		"keys":    "format = 1\n[[tube]]\n" + bounded.Many(90_000, "a%d = 1\n"),
	}, func(text []byte) error {
		f, err := Parse("own.toml", text)
		if err == nil {
			_, _, err = f.Apply(c)
		}
		return err
	}, "own.toml", "; ")
}
