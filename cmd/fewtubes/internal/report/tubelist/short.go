package tubelist

import (
	"slices"
	"strings"
)

// Nouns by which painters ask for a colour across the table, where a palette holds one of
// the kind; "oxide" says too little without the word before it.
var nouns = strings.Fields("white lemon yellow orange coral red rubine crimson vermilion magenta violet turquoise teal blue green ochre sienna umber brown black grey")

// Words that tell one tube of a name from another and say nothing of a lone one.
var fillers = strings.Fields("transparent light medium deep dark warm cool natural neutral bluish greenish hue")

// Short are the names of a palette's tubes, each as short as tells it from the
// others: "white", "hansa yellow", "yellow oxide".
func (l List) Short(ids []string) func(id string) string {
	words := make([][]string, len(ids))
	for i, id := range ids {
		words[i] = strings.Fields(l.Name(id))
	}
	short := map[string]string{}
	for i, id := range ids {
		short[id] = strings.Join(words[i], " ")
		for _, try := range shortened(words[i]) {
			if !heldByAnother(words, i, try) {
				short[id] = strings.Join(try, " ")
				break
			}
		}
	}
	return func(id string) string {
		if s, ok := short[id]; ok {
			return s
		}
		return l.Name(id)
	}
}

// shortened are a name by its noun alone, and without its fillers.
func shortened(name []string) (out [][]string) {
	bare := name
	if at := slices.IndexFunc(name, func(w string) bool { return strings.HasPrefix(w, "(") }); at > 0 {
		bare = name[:at]
	}
	noun := ""
	for _, w := range bare {
		if slices.Contains(nouns, w) {
			noun = w
		}
	}
	if noun != "" && !slices.Contains(bare, "oxide") {
		out = append(out, []string{noun})
	}
	if lean := slices.DeleteFunc(slices.Clone(bare), func(w string) bool { return slices.Contains(fillers, w) }); len(lean) > 0 {
		out = append(out, lean)
	}
	return append(out, bare)
}

// heldByAnother reports whether a name besides the one at i holds all of some words.
func heldByAnother(names [][]string, i int, words []string) bool {
	for k, name := range names {
		if k != i && !slices.ContainsFunc(words, func(w string) bool { return !slices.Contains(name, w) }) {
			return true
		}
	}
	return false
}

// Kind is the plural of the noun that all of some tubes share: "blues"; "tubes" where
// there is none.
func (l List) Kind(ids []string) string {
	kind := ""
	for _, id := range ids {
		noun := ""
		if s := shortened(strings.Fields(l.Name(id))); len(s[0]) == 1 {
			noun = s[0][0]
		}
		if noun == "" || kind != "" && kind != noun {
			return "tubes"
		}
		kind = noun
	}
	return kind + "s"
}
