package owntubes

import (
	"fmt"
	"strings"
	"testing"

	"fewtubes/gamut/bounded"
)

// Files just under the size that counts, of many small entries.
func TestLargeFiles(t *testing.T) {
	c := builtin(t)
	many := func(n int, form string) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, form, i)
		}
		return b.String()
	}
	for what, text := range map[string]string{
		"tubes":   "format = 1\n" + many(20_000, "[[tube]]\nid = \"t%d\"\nlike = \"viridian\"\n"),
		"parts":   "format = 1\n[[tube]]\nid = \"t\"\nmix = [" + many(25_000, "{tube = \"viridian\", parts = 1%d},") + "]\n",
		"hazards": "format = 1\n[[tube]]\nlike = \"viridian\"\nhazards = [" + strings.Repeat("\"lead\", ", 90_000) + "]\n",
		"values":  "format = 1\n[[tube]]\nid = \"t\"\nk = [" + strings.Repeat("1.0,", 200_000) + "]\ns = []\n",
		"keys":    "format = 1\n[[tube]]\n" + many(90_000, "a%d = 1\n"),
	} {
		if len(text) >= bounded.Size {
			t.Errorf("%s: %d bytes are too many to count", what, len(text))
		}
		bounded.Work(t, len(text), func() {
			f, err := Parse("own.toml", []byte(text))
			if err == nil {
				_, err = f.Apply(c)
			}
			if err != nil {
				bounded.Refusal(t, err, "own.toml", "; ")
			}
		})
		if t.Failed() {
			t.Fatal(what)
		}
	}
}
