package main

import (
	"fmt"
	"unicode/utf8"
)

// nearest suggests the known word closest to what was typed, or nothing where
// none is close. It reads ` (did you mean "x"?)` to
// stand inside a message.
func nearest(typed string, known []string) string {
	best, least := "", 1+utf8.RuneCountInString(typed)/3
	for _, k := range known {
		if d := edits([]rune(typed), []rune(k)); d <= least && (best == "" || d < least) {
			best, least = k, d
		}
	}
	if best == "" {
		return ""
	}
	return fmt.Sprintf(" (did you mean %q?)", best)
}

// edits is the Levenshtein distance: insertions, deletions and replacements
// that turn a into b.
func edits(a, b []rune) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range a {
		diagonal := row[0]
		row[0] = i + 1
		for j := range b {
			keep := diagonal
			if a[i] != b[j] {
				keep++
			}
			diagonal = row[j+1]
			row[j+1] = min(keep, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
