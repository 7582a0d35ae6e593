package notices

import (
	"strings"
	"testing"
)

// Licences that ask for more than their text are met: the credit of CC BY 4.0
// (section 3(a)) with author, title, link and what was changed, and what the LGPL 3
// (section 4) asks of a program that carries a library.
func TestCreditsAreGiven(t *testing.T) {
	for _, want := range []string{
		"Hilda Deborah", "Hyperspectral Pigment Dataset", "https://doi.org/10.5281/zenodo.5592485",
		"https://creativecommons.org/licenses/by/4.0/", "Changed: ",
		"GNU Lesser\nGeneral Public License, version 3", "https://github.com/strukturag/libheif", "https://github.com/strukturag/libde265", "replace github.com/gen2brain/heic",
		"The\nFreeType Project (https://www.freetype.org)",
	} {
		if !strings.Contains(Credits(), want) {
			t.Errorf("the credits lack %q", want)
		}
	}
	texts := map[string][]string{ // a part and phrases of its licence
		"libheif":                       {"GNU LESSER GENERAL PUBLIC LICENSE", "GNU GENERAL PUBLIC LICENSE", "Version 3, 29 June 2007"},
		"libde265":                      {"GNU LESSER GENERAL PUBLIC LICENSE", "GNU GENERAL PUBLIC LICENSE"},
		"github.com/tetratelabs/wazero": {"Apache License", "Copyright 2020-2023 wazero authors"},
		"Go":                            {"Redistributions in binary form must reproduce", "patent"},
		"Go-fonts":                      {"Bigelow & Holmes"},
		"github.com/golang/freetype":    {"The FreeType Project LICENSE"},
	}
	for _, p := range Parts() {
		if p.Licence == "" || len(p.Text) < 500 {
			t.Errorf("%s: %q, %d letters", p.Name, p.Licence, len(p.Text))
		}
		for _, want := range texts[p.Name] {
			if !strings.Contains(p.Text, want) {
				t.Errorf("%s: its text lacks %q", p.Name, want)
			}
		}
		delete(texts, p.Name)
	}
	if len(texts) > 0 {
		t.Errorf("no part called %v", texts)
	}
}

// The parts are all of the text behind the credits.
func TestPartsAreWhole(t *testing.T) {
	b := Credits() + "\n"
	for _, p := range Parts() {
		b += "\n" + p.Heading() + "\n" + p.Text + "\n"
	}
	if b != All() {
		t.Errorf("%d letters in parts, %d in all", len(b), len(All()))
	}
}
