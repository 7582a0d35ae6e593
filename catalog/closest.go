package catalog

import (
	"slices"
	"strings"
)

const mostSuggestions = 3

// closest lists the ids that a mistyped one was likely meant for: first those
// made of the same words, then those a few letters away.
func closest(typed string, ids []string) []string {
	typed = strings.ToLower(strings.TrimSpace(typed))
	words := strings.FieldsFunc(typed, func(r rune) bool { return r == '-' || r == ' ' || r == '_' })
	type guess struct {
		id   string
		cost int
	}
	var guesses []guess
	for _, id := range ids {
		cost := distance(typed, id)
		if len(words) > 0 && holdsAll(id, words) {
			cost = min(cost, 2)
		}
		if cost <= 2+len(typed)/6 {
			guesses = append(guesses, guess{id, cost})
		}
	}
	slices.SortStableFunc(guesses, func(a, b guess) int { return a.cost - b.cost })
	var out []string
	for _, g := range guesses[:min(len(guesses), mostSuggestions)] {
		out = append(out, g.id)
	}
	return out
}

func holdsAll(id string, words []string) bool {
	for _, w := range words {
		if !strings.Contains(id, w) {
			return false
		}
	}
	return true
}

// distance counts the insertions, deletions and replacements between a and b
// (Levenshtein, Sov. Phys. Dokl. 10:707, 1966).
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			replace := diagonal
			if a[i-1] != b[j-1] {
				replace++
			}
			diagonal = row[j]
			row[j] = min(replace, row[j]+1, row[j-1]+1)
		}
	}
	return row[len(b)]
}
