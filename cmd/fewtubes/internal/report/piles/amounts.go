package piles

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fewtubes/cmd/fewtubes/internal/mixing"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/solver"
)

// Amounts are parts, which need not be whole, of tubes or of prepared piles, written
// as an object from id to parts.
type Amounts []mixing.Amount

// MarshalJSON writes {"id": parts}.
func (a Amounts) MarshalJSON() ([]byte, error) {
	return shown.Object(len(a), func(i int) (string, any) { return a[i].ID, json.Number(plain(a[i].Parts)) })
}

// Recipe is the amounts in words: "3 ultramarine-blue + 0.25 yellow-ochre".
func (a Amounts) Recipe(name func(string) string) string {
	words := make([]string, len(a))
	for i, amount := range a {
		words[i] = fmt.Sprintf("%s %s", plain(amount.Parts), name(amount.ID))
	}
	return strings.Join(words, " + ")
}

// ByParts puts the largest part first, as a recipe is read.
func ByParts(parts []solver.Part) Amounts {
	out := make(Amounts, len(parts))
	for i, p := range parts {
		out[i] = mixing.Amount{ID: p.ID, Parts: float64(p.Parts)}
	}
	slices.SortStableFunc(out, func(a, b mixing.Amount) int { return cmp.Compare(b.Parts, a.Parts) })
	return out
}

func (a Amounts) total() (sum float64) {
	for _, amount := range a {
		sum += amount.Parts
	}
	return sum
}

// plain is a number with as many decimals as it has, six at most.
func plain(v float64) string {
	s := strconv.FormatFloat(v, 'f', 6, 64)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}
