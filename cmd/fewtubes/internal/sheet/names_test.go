package sheet

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// failer is a test, or one draw of a property.
type failer interface{ Fatalf(string, ...any) }

// operators are those a sheet needs (ISO 32000-1, annex A): text, colours,
// rectangles, lines and the state around them.
var operators = strings.Fields("BT ET Tf Td Tj Tw rg RG g G re f S W n q Q w J j d m l cm")

// checkOperators reads the page streams as ISO 32000-1 section 7.2 has them
// read, strings with their nested parentheses and escapes, and finds no
// operator that a name could have brought in.
func checkOperators(t failer, content string) {
	for i := 0; i < len(content); {
		switch c := content[i]; {
		case strings.IndexByte(" \n\r\t\x00\f", c) >= 0:
			i++
		case c == '(':
			depth, start := 0, i
			for ; i < len(content); i++ {
				if content[i] == '\\' {
					i++
					continue
				}
				if content[i] == '(' {
					depth++
				}
				if content[i] == ')' {
					if depth--; depth == 0 {
						break
					}
				}
			}
			if i++; i > len(content) {
				t.Fatalf("a string has no end: %.200q", content[start:])
			}
		default:
			end := i + strings.IndexAny(content[i:]+" ", " \n\r\t\x00\f(")
			word := content[i:end]
			number := strings.Trim(word, "+-.0123456789") == ""
			if !number && word[0] != '/' && word != "[]" && word != "[" && word != "]" && !slices.Contains(operators, word) {
				t.Fatalf("%q stands among the operators: %.200q", word, content[max(0, i-80):])
			}
			i = end
		}
	}
}

// A name stays within its string, whatever it holds.
func TestNamesStayStrings(t *testing.T) {
	p, palette := class(t, 5)
	hostile := []string{`) Tj ET 0 0 m (`, `\`, `\\) Tj (`, `((((`, `))))`, "\\\r\n) Tj", `<</S/JavaScript/JS(x)>>`, `=1+1`, "\x1b[2J", "\u202emud", "(\\", `\050`, "沼 \u2028 ("}
	check := func(name string, on failer) {
		palette.Targets[0].Target = name
		pdf, err := NewHandout(name, p, palette).PDF(A4)
		if err != nil {
			on.Fatalf("%q: %v", name, err)
		}
		for _, content := range contents(t, pdf) {
			checkOperators(on, content)
		}
		if strings.Contains(string(pdf), "/JavaScript/JS") || strings.Contains(string(pdf), "\x1b[2J") {
			on.Fatalf("%q stands in the file as it is", name)
		}
	}
	for _, name := range hostile {
		check(name, t)
	}
	rapid.Check(t, func(rt *rapid.T) {
		check(strings.Join(rapid.SliceOfN(rapid.SampledFrom(append(hostile, "(", ")", "a", " ")), 0, 12).Draw(rt, "name"), ""), rt)
	})
}

// refuser counts what checkOperators finds.
type refuser struct{ found int }

func (r *refuser) Fatalf(string, ...any) { r.found++ }

// The reader above sees what it is there to see.
func TestStrayOperatorsAreSeen(t *testing.T) {
	for _, content := range []string{"BT (mud) Tj ET 0 0 evil ", "BT (mud\\) Tj ET", "BT (mud) Tj (x) Do ET"} {
		var r refuser
		if checkOperators(&r, content); r.found == 0 {
			t.Errorf("%q passes", content)
		}
	}
}

// A long name gives way to the note behind it; a long title takes a second line.
func TestLongNames(t *testing.T) {
	p, palette := class(t, 2)
	palette.Targets[0].Target = strings.Repeat("the pale strip of wet sand ", 4)
	pdf, err := NewHandout(strings.Repeat("An hour before the tide turns. ", 4)+"November", p, palette).PDF(A4)
	if err != nil {
		t.Fatal(err)
	}
	page := strings.Join(contents(t, pdf), "")
	for _, want := range []string{"(1 the pale strip of wet sand", `( \(v `, "November)"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page does not hold %s", want)
		}
	}
}
