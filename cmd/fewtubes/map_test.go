package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// The map for contributors can be read in ten minutes, and what it names is there.
func TestMapIsShortAndTrue(t *testing.T) {
	const mostWords, root = 1500, "../.."
	text, err := os.ReadFile(filepath.Join(root, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	if n := len(strings.Fields(string(text))); n > mostWords {
		t.Errorf("%d words", n)
	}
	named := regexp.MustCompile(`\b(?:cmd|solver|gamut|catalog|testdata)/[\w/.]*\w`).FindAllString(string(text), -1)
	for _, path := range named {
		if _, err := os.Stat(filepath.Join(root, path)); err != nil {
			t.Errorf("%s is not there", path)
		}
	}
	if len(named) < 20 {
		t.Errorf("only %d places named", len(named))
	}
}
