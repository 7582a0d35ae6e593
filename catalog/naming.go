package catalog

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"unicode"
)

// UnknownTube is the error for words that name no tube, or more than one.
type UnknownTube struct {
	ID      string   // the words
	Close   []string // ids that may have been meant, likeliest first; may be empty
	Several bool     // the words fit every one of Close, in catalogue order
}

// mostListed tubes are named where words may mean many.
const mostListed = 12

func (e *UnknownTube) Error() string {
	switch {
	case e.Several:
		all, more := e.Close, ""
		if len(all) > mostListed {
			all, more = all[:mostListed], fmt.Sprintf(" (or %d more)", len(all)-mostListed)
		}
		return fmt.Sprintf("%q may be more than one tube; name %s%s", e.ID, listed(all), more)
	case len(e.Close) > 0:
		return fmt.Sprintf("there is no tube %q; did you mean %s?", e.ID, listed(e.Close))
	}
	return fmt.Sprintf("there is no tube %q", e.ID)
}

func listed(ids []string) string {
	last := len(ids) - 1
	if last < 1 {
		return strings.Join(ids, "")
	}
	return strings.Join(ids[:last], ", ") + " or " + ids[last]
}

// usual are the tubes that the trade means by a name alone, and names that it has
// for them besides (common practice, no source). Keys are as of squeeze.
var usual = map[string]string{
	"alizarin": "alizarin-crimson", "cerulean": "cerulean-blue", "cobalt": "cobalt-blue", "chromiumoxide": "chromium-oxide-green",
	"cremnitzwhite": "lead-white", "dioxazinepurple": "dioxazine-violet", "flakewhite": "lead-white", "frenchultramarine": "ultramarine-blue",
	"lead": "lead-white", "madder": "madder-lake", "ochre": "yellow-ochre", "oxideofchromium": "chromium-oxide-green",
	"rosemadder": "madder-lake", "terraverde": "green-earth", "terreverte": "green-earth", "titanium": "titanium-white",
	"ultramarine": "ultramarine-blue", "zinc": "zinc-white",
}

// naming is what one tube goes by, squeezed but for the words.
type naming struct {
	id, full, plain, besides string // plain: without what stands in brackets; besides: that
	pigment                  string // of a tube of one
	words                    []string
}

func namingOf(t *Tube) naming {
	plain, besides, _ := strings.Cut(t.Name, "(")
	n := naming{id: squeeze(t.ID), full: squeeze(t.Name), plain: squeeze(plain), besides: squeeze(besides), words: append(wordsOf(t.ID), wordsOf(t.Name)...)}
	if len(t.Pigments) == 1 {
		n.pigment = strings.ToLower(t.Pigments[0])
	}
	return n
}

// wordsOf are the words of a name, small, without signs, in one spelling.
func wordsOf(name string) []string {
	name = strings.NewReplacer("'", "", "’", "", "gray", "grey").Replace(strings.ToLower(name))
	return strings.FieldsFunc(name, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// squeeze is a name without case, spaces and signs.
func squeeze(name string) string { return strings.Join(wordsOf(name), "") }

// namings are those of some tubes, worked out when first asked for.
func namings(tubes []Tube) func() []naming {
	return sync.OnceValue(func() []naming {
		out := make([]naming, len(tubes))
		for i := range tubes {
			out[i] = namingOf(&tubes[i])
		}
		return out
	})
}

// Get finds the one tube that is meant by an id, a common name, one that the
// trade uses alone, a Colour Index name, or by words of its name or their
// beginnings, in any case and with any spaces and hyphens. The error is always an
// *UnknownTube.
func (c *Catalogue) Get(name string) (Tube, error) {
	if t, ok := c.Find(name); ok {
		return t, nil
	}
	if t, ok := c.Find(usual[squeeze(name)]); ok {
		return t, nil
	}
	found, surely := c.meant(name)
	if len(found) == 1 {
		return c.tubes[found[0]], nil
	}
	switch near, slip := c.near(name); {
	case len(found) == 0 || slip && !surely:
		return Tube{}, &UnknownTube{ID: name, Close: near}
	}
	return Tube{}, &UnknownTube{ID: name, Close: c.ids(found), Several: true}
}

// GetEach finds tubes named one after the other. A name of several words is one where
// its words stand apart, as are words that mean a tube together and none alone.
// Errors are those of Get.
func (c *Catalogue) GetEach(words []string) (tubes []Tube, err error) {
	for len(words) > 0 {
		t, n, err := c.first(words)
		if err != nil {
			return nil, err
		}
		tubes, words = append(tubes, t), words[n:]
	}
	return tubes, nil
}

// mostWords a name has.
const mostWords = 8

// first is the tube that so many of some words name first.
func (c *Catalogue) first(words []string) (Tube, int, error) {
	most := min(len(words), mostWords)
	for n := most; n > 1; n-- {
		if i, ok := c.called(strings.Join(words[:n], " ")); ok {
			return c.tubes[i], n, nil
		}
	}
	alone, err := c.Get(words[0])
	for n := most; err != nil && n > 1; n-- {
		if t, wrong := c.Get(strings.Join(words[:n], " ")); wrong == nil {
			return t, n, nil
		}
	}
	return alone, 1, err
}

// called finds the tube that has a name, whole.
func (c *Catalogue) called(name string) (int, bool) {
	whole := squeeze(name)
	if i, ok := c.index[usual[whole]]; ok {
		return i, true
	}
	all := c.namings()
	for _, is := range []func(n *naming) bool{
		func(n *naming) bool { return n.id == whole },
		func(n *naming) bool { return n.full == whole },
	} {
		if i := slices.IndexFunc(all, func(n naming) bool { return is(&n) }); i >= 0 {
			return i, true
		}
	}
	return 0, false
}

// least letters make a beginning of a word.
const least = 3

// meant are the tubes that words fit in the first of several ways that fits any;
// surely: not by their beginnings alone.
func (c *Catalogue) meant(name string) (found []int, surely bool) {
	whole, words := squeeze(name), wordsOf(name)
	if whole == "" {
		return nil, false
	}
	code := strings.ToLower(strings.Join(strings.Fields(name), ""))
	all := c.namings()
	ways := []func(n *naming) bool{
		func(n *naming) bool { return n.id == whole },
		func(n *naming) bool { return n.full == whole },
		func(n *naming) bool { return n.plain == whole },
		func(n *naming) bool { return n.besides == whole },
		func(n *naming) bool { return n.pigment == code },
		func(n *naming) bool { kind, _, _ := strings.Cut(n.pigment, ":"); return kind == code },
		func(n *naming) bool { return n.says(words, func(said, w string) bool { return said == w }) },
		func(n *naming) bool {
			return n.says(words, func(said, w string) bool { return len(w) >= least && strings.HasPrefix(said, w) })
		},
	}
	for way, fits := range ways {
		for i := range all {
			if fits(&all[i]) {
				found = append(found, i)
			}
		}
		if found != nil {
			return found, way < len(ways)-1
		}
	}
	return nil, false
}

// says reports whether every word fits one of the name.
func (n *naming) says(words []string, fits func(said, word string) bool) bool {
	return !slices.ContainsFunc(words, func(w string) bool {
		return !slices.ContainsFunc(n.words, func(said string) bool { return fits(said, w) })
	})
}

func (c *Catalogue) ids(at []int) []string {
	out := make([]string, len(at))
	for k, i := range at {
		out[k] = c.tubes[i].ID
	}
	return out
}

const (
	mostSuggestions = 3
	mostLetters     = 100 // no name of a tube comes near
)

// near lists the ids of the tubes whose names are a few letters away; slip: one.
func (c *Catalogue) near(name string) (out []string, slip bool) {
	typed, words := squeeze(name), wordsOf(name)
	type guess struct {
		id   string
		cost int
	}
	if len(typed) > mostLetters {
		return nil, false
	}
	most := max(1, min(2+len(typed)/6, len(typed)/3))
	var guesses []guess
	all := c.namings()
	for i := range all {
		n := &all[i]
		cost := min(distance(typed, n.id), distance(typed, n.full), distance(typed, n.plain)+1) // what two tubes share comes second
		if n.besides != "" {
			cost = min(cost, distance(typed, n.besides)+1)
		}
		if len(words) > 0 && n.says(words, func(said, w string) bool { return len(w) > least && distance(said, w) <= 1 }) {
			cost = min(cost, most)
		}
		for word, id := range usual {
			if id == c.tubes[i].ID {
				cost = min(cost, distance(typed, word))
			}
		}
		if cost <= most {
			guesses = append(guesses, guess{c.tubes[i].ID, cost})
		}
	}
	slices.SortStableFunc(guesses, func(a, b guess) int { return a.cost - b.cost })
	slip = len(guesses) > 0 && guesses[0].cost == 1
	for _, g := range guesses[:min(len(guesses), mostSuggestions)] {
		if !slip || g.cost == 1 { // beside a slip of one letter nothing else is likely
			out = append(out, g.id)
		}
	}
	return out, slip
}

// distance counts the letters to put in, leave out, replace or exchange with their
// neighbour between a and b (Damerau, Commun. ACM 7:171, 1964; each place touched
// once).
func distance(a, b string) int {
	var before []int
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		next := make([]int, len(b)+1)
		next[0] = i
		for j := 1; j <= len(b); j++ {
			replace := row[j-1]
			if a[i-1] != b[j-1] {
				replace++
			}
			next[j] = min(replace, row[j]+1, next[j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				next[j] = min(next[j], before[j-2]+1)
			}
		}
		before, row = row, next
	}
	return row[len(b)]
}
