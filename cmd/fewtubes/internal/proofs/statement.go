package proofs

import (
	"cmp"
	"fmt"
	"slices"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// Statement is what a folder says. Tubes and colours go by their places.
type Statement struct {
	Title   string
	Light   string
	Surface film.Surface
	Minima  []Minimum // each under those before it; none: nothing is said to be least
	Limits  Limits
	Tubes   []Tube // that a palette may hold
	Colours []Colour
	Needs   []Need
	Palette []int // that comes to the minimum
}

// Minimum is how little of something a palette can come to.
type Minimum struct {
	What  string // by its name in minimised
	Least int
}

// minimised are the things that can be least, by name: in words for one and for
// some, and what a tube weighs in them.
var minimised = map[string]struct {
	one, some string
	weighs    func(t *Tube) int
}{
	"tubes":  {"tube", "tubes", func(*Tube) int { return 1 }},
	"bought": {"tube to buy", "tubes to buy", func(t *Tube) int { return t.Buy }},
}

// Tube is one that a palette may hold.
type Tube struct {
	ID    string
	Buy   int // 1; 0 where the painter owns it
	Price int // hundredths
	film.Paint
}

// Limits bound a palette.
type Limits struct {
	Most     int // 0: any number of tubes
	Budgeted bool
	Budget   int // hundredths
	Keep     []int
	Groups   [][]int
}

// Colour is one of the scene.
type Colour struct {
	Name string
	colour.Lab
	Tolerance float64
	State     State
	Mix       []Share // of a reached one
}

// State is what is said of a colour.
type State int

const (
	Open     State = iota // nothing
	Reached               // a mix comes within the tolerance
	Missed                // no mix of all the tubes does: there is a certificate
	Searched              // no mix does, as a search found; there is no certificate
)

var stateNames = [...]string{Open: "open", Reached: "reached", Missed: "missed", Searched: "search"}

// Share is how much of a tube is in a mix.
type Share struct {
	Tube   int
	Amount float64
}

// Need says that a colour takes one of some tubes.
type Need struct {
	For    int // place of the minimum that it is there for
	Colour int
	OneOf  []int
	Proven bool // there is a certificate, or there are no other tubes
}

// others are the tubes outside a need.
func (s *Statement) others(n *Need) []int {
	var out []int
	for i := range s.Tubes {
		if _, is := slices.BinarySearch(n.OneOf, i); !is {
			out = append(out, i)
		}
	}
	return out
}

// claim is what a certificate has to say: that some tubes do not reach a colour.
func (s *Statement) claim(colour int, tubes []int) check.Claim {
	c := &s.Colours[colour]
	out := check.Claim{Surface: s.Surface, Light: s.Light, Target: c.Lab, Tolerance: c.Tolerance}
	for _, i := range tubes {
		out.Paints = append(out.Paints, s.Tubes[i].Paint)
	}
	return out
}

// every is the place of each tube.
func (s *Statement) every() []int {
	out := make([]int, len(s.Tubes))
	for i := range out {
		out[i] = i
	}
	return out
}

// comesTo is what a palette comes to in what is least.
func (s *Statement) comesTo(m Minimum, palette []int) (sum int) {
	for _, i := range palette {
		sum += minimised[m.What].weighs(&s.Tubes[i])
	}
	return sum
}

// Tube is the place of a tube by its id, -1 where it is none of them.
func (s *Statement) Tube(id string) int {
	return slices.IndexFunc(s.Tubes, func(t Tube) bool { return t.ID == id })
}

// Places are those of some tubes by their ids, in order, each once; others are left
// out.
func (s *Statement) Places(ids []string) (out []int) {
	for i := range s.Tubes {
		if slices.Contains(ids, s.Tubes[i].ID) {
			out = append(out, i)
		}
	}
	return out
}

// ColourNamed is the place of a colour, -1 where there is none of the name.
func (s *Statement) ColourNamed(name string) int {
	return slices.IndexFunc(s.Colours, func(c Colour) bool { return c.Name == name })
}

// Unlike are the tubes that are not among others, with the same paint.
func (s *Statement) Unlike(others []catalog.Tube) (ids []string) {
	for i := range s.Tubes {
		t := &s.Tubes[i]
		if !slices.ContainsFunc(others, func(o catalog.Tube) bool { return o.ID == t.ID && o.Paint == t.Paint }) {
			ids = append(ids, t.ID)
		}
	}
	return ids
}

// Differs says what of the scene, its tubes and its limits is another than wanted;
// empty: nothing.
func (s *Statement) Differs(wanted *Statement) string {
	switch {
	case s.Light != wanted.Light || s.Surface != wanted.Surface:
		return "it is seen in another light or with another surface"
	case len(s.Colours) != len(wanted.Colours):
		return fmt.Sprintf("it has %s and not %d", shown.Counted(len(s.Colours), "colour"), len(wanted.Colours))
	}
	for i := range s.Colours {
		switch c, w := &s.Colours[i], &wanted.Colours[i]; {
		case c.Name != w.Name:
			return fmt.Sprintf("colour %d is %q and not %q", i+1, plain.Short(c.Name), plain.Short(w.Name))
		case c.Lab != w.Lab:
			return fmt.Sprintf("%q is %s and not %s", plain.Short(c.Name), InWords(c.Lab), InWords(w.Lab))
		case c.Tolerance != w.Tolerance:
			return fmt.Sprintf("the tolerance of %q is %g and not %g", plain.Short(c.Name), c.Tolerance, w.Tolerance)
		}
	}
	alike := func(a, b Tube) bool { return a == b }
	switch {
	case !slices.EqualFunc(s.Tubes, wanted.Tubes, alike):
		return "it allows other tubes, or at other prices"
	case s.limitWords(0) != wanted.limitWords(0):
		return fmt.Sprintf("its limits are others:%s and not%s", cmp.Or(s.limitWords(0), " none"), cmp.Or(wanted.limitWords(0), " none"))
	}
	return ""
}
