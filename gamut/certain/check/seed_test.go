package check

import (
	"flag"

	_ "pgregory.net/rapid" // registers the flag
)

// Property tests draw the same cases at every run; -rapid.seed asks for others.
func init() {
	if err := flag.Set("rapid.seed", "1974"); err != nil {
		panic(err)
	}
}
