package catalog

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// properNames begin the names of tubes that keep their capital in a sentence.
var properNames = []string{"Prussian", "Naples", "Mars", "Indian", "Venetian", "English", "Payne's", "Hooker's", "Vandyke"}

// InSentence is a tube's name as it stands inside a sentence: "yellow ochre",
// but "Prussian blue".
func InSentence(name string) string {
	if first, _, _ := strings.Cut(name, " "); slices.Contains(properNames, first) {
		return name
	}
	r, size := utf8.DecodeRuneInString(name)
	if size == 0 {
		return name
	}
	return string(unicode.ToLower(r)) + name[size:]
}
