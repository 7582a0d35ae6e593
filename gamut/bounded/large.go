package bounded

import (
	"fmt"
	"strings"
	"testing"
)

// Many is a form n times over, its verb filled with 0, 1, 2 and so on.
func Many(n int, form string) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, form, i)
	}
	return b.String()
}

// Large has files read, by what they hold much of. Each must be just under Size,
// be read within the bounds and, where it is refused, with a message a person can
// use that says each of the words given.
func Large(t *testing.T, files map[string]string, read func(text []byte) error, says ...string) {
	t.Helper()
	for what, text := range files {
		if len(text) >= Size {
			t.Errorf("%s: %d bytes are too many to count", what, len(text))
		}
		Work(t, len(text), func() {
			if err := read([]byte(text)); err != nil {
				Refusal(t, err, says...)
			}
		})
		if t.Failed() {
			t.Fatal(what)
		}
	}
}
