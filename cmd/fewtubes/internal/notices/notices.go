// Package notices holds whose work the program carries, and under which licences.
package notices

import (
	"bytes"
	"compress/gzip"
	_ "embed"
	"io"
	"regexp"
	"strings"
	"sync"
)

// NOTICES.txt.gz is written by `make notices`: the credits, then for each part a line
// that names it and the texts of its licences. Packed it is a quarter as large.
//
//go:embed NOTICES.txt.gz
var packed []byte

// Part is a work of others that is inside the program.
type Part struct {
	Name    string // the path of a module, or a library or font that comes with one
	Version string // "" where none is written down
	Licence string // an SPDX licence expression (https://spdx.org/licenses)
	Text    string // the texts of the licences, and notices that go with them
}

// All is the whole text.
func All() string { return all() }

var all = sync.OnceValue(func() string {
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		panic("notices: " + err.Error()) // they come with the program
	}
	text, err := io.ReadAll(z)
	if err != nil {
		panic("notices: " + err.Error())
	}
	return string(text)
})

// Credits is what comes before the parts: whose data these are, and what is to be
// said about some of the libraries.
func Credits() string {
	text := All()
	return strings.TrimSpace(text[:heading.FindStringIndex(text)[0]])
}

var heading = regexp.MustCompile(`(?m)^==== (\S+)(?: (\S+))? \| (.+)\n`)

// Heading is the line before the texts of a part.
func (p Part) Heading() string {
	return "==== " + strings.TrimSpace(p.Name+" "+p.Version) + " | " + p.Licence + "\n"
}

// Parts are the works of others in the order of their names.
func Parts() (out []Part) {
	text := All()
	found := heading.FindAllStringSubmatchIndex(text, -1)
	for i, at := range found {
		end := len(text)
		if i+1 < len(found) {
			end = found[i+1][0]
		}
		group := func(n int) string {
			if at[2*n] < 0 {
				return ""
			}
			return text[at[2*n]:at[2*n+1]]
		}
		out = append(out, Part{group(1), group(2), group(3), strings.Trim(text[at[1]:end], "\n")})
	}
	return out
}
