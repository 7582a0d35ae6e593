package report

import (
	"bytes"
	"testing"
)

// A part of a page brings no head and no style of its own: the page's policy
// would block it.
func TestFragmentIsBare(t *testing.T) {
	for name, make := range map[string]func() ([]byte, error){
		"choice":     fixture().Fragment,
		"comparison": fixtureComparison(t).Fragment,
	} {
		html, err := make()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for _, no := range []string{"<style", " style=", "<html", "<script", "<head>"} {
			if bytes.Contains(html, []byte(no)) {
				t.Errorf("%s: holds %s", name, no)
			}
		}
		if !bytes.Contains(html, []byte("<section")) {
			t.Errorf("%s: no section", name)
		}
	}
}
