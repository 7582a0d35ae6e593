package catalog

import (
	"slices"
	"strings"

	"fewtubes/gamut/film"
)

// buff is unbleached titanium, which goes by a white's name and is none.
const buff = "PW6:1"

// IsWhite reports whether a tube holds white pigments alone; one without
// pigments named is no white.
func (t *Tube) IsWhite() bool {
	return len(t.Pigments) > 0 && !slices.ContainsFunc(t.Pigments, func(p string) bool { return p == buff || !strings.HasPrefix(p, "PW") })
}

// WhiteOf is the index of the white that tints are made with: titanium white,
// or the first white where there is none; -1 without any.
func WhiteOf(tubes []Tube) int {
	found := -1
	for i := range tubes {
		t := &tubes[i]
		switch {
		case len(t.Pigments) == 1 && t.Pigments[0] == "PW6":
			return i
		case found < 0 && t.IsWhite():
			found = i
		}
	}
	return found
}

// White is the paint of WhiteOf; nil without any.
func (c *Catalogue) White() *film.Paint {
	if i := WhiteOf(c.tubes); i >= 0 {
		return &c.tubes[i].Paint
	}
	return nil
}
