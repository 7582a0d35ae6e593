package piles

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/report/shown"
)

// strongPull is the CIEDE2000 by which a twentieth more of a paint must move a
// pile for it to be called strong there (common practice, no source).
const strongPull = 3.0

// orderSentence says in which order to put a pile together: names in that
// order, pull the effect of a twentieth more of the last, 0 where not known.
func orderSentence(names []string, pull float64) string {
	n := len(names)
	if n == 1 {
		return "Straight from the tube."
	}
	last := names[n-1]
	out := "Start with " + names[0]
	if n > 2 {
		out += ", work in " + shown.Listed(names[1:n-1], "and then")
	}
	out += ", and add " + last + " last, little by little"
	if pull >= strongPull {
		out += fmt.Sprintf(": it is strong here, a twentieth of the pile more of it moves the colour by ΔE00 %.1f", pull)
	}
	return out + "."
}

// letDownSentence says what to let down before a recipe is put together.
func letDownSentence(r *hand.Recipe, name func(string) string) string {
	var once []string
	for _, p := range r.Parts {
		if p.In == "" {
			continue
		}
		words := fmt.Sprintf("one part of %s in %s of %s", name(p.Tube), shown.Spelled(p.Ratio), name(p.In))
		if p.Times == 2 {
			words += ", and one part of that in " + shown.Spelled(p.Ratio) + " once more"
		}
		once = append(once, words)
	}
	return "First let down " + strings.Join(once, "; ") + "."
}

// letDownNames are the piles of a recipe in the order of mixing.
func letDownNames(r *hand.Recipe, name func(string) string) []string {
	var out []string
	for _, p := range r.Parts {
		words := name(p.Tube)
		if p.In != "" {
			words = "the let-down " + words
		}
		out = append(out, words)
	}
	return slices.Clip(out)
}
