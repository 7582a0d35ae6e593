package sheet

import (
	"bytes"
	"encoding/binary"
	"strings"
	"testing"
	"unicode/utf16"
)

// Titles in other scripts stand in the page as the letters they are, coded in
// UTF-16 (ISO 32000-1, section 9.7.5, Identity-H), with a font file; the same
// sheet gives the same bytes; what no font has is a question mark; a sheet in
// Western letters carries no font file.
func TestOtherLetters(t *testing.T) {
	print := func(title string) []byte {
		p := newPress(A4, title, "")
		p.bold(margin, 30, p.inner(), 11, title)
		p.text(margin, 40, p.inner(), 9, title)
		p.y = 50
		p.paragraph(9, strings.Repeat(title+" ", 30))
		out, err := p.finish()
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	for title, want := range map[string]string{
		"Солончак при отливе":   "Солончак при отливе",
		"Αλμυρός βάλτος":        "Αλμυρός βάλτος",
		"Słone łąki, přílivu":   "Słone łąki, přílivu",
		"Ebb tide 海 at morning": "Ebb tide ? at morning",
	} {
		data := print(title)
		text := strings.NewReplacer(`\(`, "(", `\)`, ")", `\\`, `\`).Replace(strings.Join(contents(t, data), ""))
		var coded []byte
		for _, u := range utf16.Encode([]rune(want)) {
			coded = binary.BigEndian.AppendUint16(coded, u)
		}
		if n := strings.Count(text, string(coded)); n < 20 || !bytes.Contains(data, []byte("FontFile2")) {
			t.Errorf("%q stands in the page %d times", want, n)
		}
		if again := print(title); !bytes.Equal(again, data) {
			t.Errorf("%q: not the same bytes again", title)
		}
		t.Logf("%q: %d bytes", title, len(data))
		if title[0] != 'E' {
		}
	}
	if bytes.Contains(print("Façade – œuvre €"), []byte("FontFile")) {
		t.Error("a font file where the core font has every letter")
	}
}
