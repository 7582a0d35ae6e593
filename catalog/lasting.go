package catalog

import "strings"

// zincOxide in oil makes a stiff film that grows brittle with the years, and has made
// layers crack and part (Mecklenburg, Tumosa, Erhardt: The changing mechanical
// properties of aging oil paints, 2005; from memory).
const zincOxide = "PW4"

// faults of a film that may not last, by class: a word and a sentence.
var faults = []struct{ class, word, sentence string }{
	{"fugitive", "fades", "It fades in light, in pale tints first: keep it for studies, or the picture out of strong light."},
	{"brittle", "grows brittle", "Zinc white grows brittle in oil and may crack or flake: use little of it, on a stiff support, and keep it out of lower and of thick layers."},
}

// Fails are the words for what a film of the tube may come to; none where nothing is
// known against it.
func (t *Tube) Fails() (out []string) {
	for _, f := range faults {
		if t.InClass(f.class) {
			out = append(out, f.word)
		}
	}
	return out
}

// Lasting is what to mind about that, in sentences.
func (t *Tube) Lasting() string {
	var out []string
	for _, f := range faults {
		if t.InClass(f.class) {
			out = append(out, f.sentence)
		}
	}
	return strings.Join(out, " ")
}
