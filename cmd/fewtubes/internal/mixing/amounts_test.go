package mixing

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fewtubes/gamut/bounded"
)

func TestParseAmounts(t *testing.T) {
	two := []Amount{{"ultramarine-blue", 3}, {"yellow-ochre", 1}}
	tests := []struct {
		given []string
		want  []Amount
		wrong string // part of the error
	}{
		{given: []string{"3:ultramarine-blue", "1:yellow-ochre"}, want: two},
		{given: []string{"3:ultramarine-blue,1:yellow-ochre"}, want: two},
		{given: []string{" 3 : ultramarine-blue , ", "1:yellow-ochre,"}, want: two},
		{given: []string{"0.25:viridian"}, want: []Amount{{"viridian", 0.25}}},
		{given: []string{"1000:viridian"}, want: []Amount{{"viridian", 1000}}},
		{given: nil, wrong: "no paint is named"},
		{given: []string{"", " , "}, wrong: "no paint is named"},
		{given: []string{"0:x"}, wrong: "0:x: its parts are out of range; write a number over 0"},
		{given: []string{"0.000:x"}, wrong: "over 0"},
		{given: []string{"-1:x"}, wrong: "number over 0"},
		{given: []string{"1001:x"}, wrong: "at most 1000"},
		{given: []string{"99999999999999999999:x"}, wrong: "number over 0"},
		{given: []string{"NaN:x"}, wrong: "number over 0"},
		{given: []string{"Inf:x"}, wrong: "number over 0"},
		{given: []string{"1e2:x"}, wrong: "number over 0"},
		{given: []string{"0x10:x"}, wrong: "number over 0"},
		{given: []string{"3:"}, wrong: "the tube is missing"},
		{given: []string{"x"}, wrong: "as in 3:x"},
		{given: []string{"1:x", "2:y", "3:x"}, wrong: "x is named twice"},
		{given: []string{strings.Repeat("z", 500)}, wrong: "z... has no parts; write"},
	}
	for _, x := range tests {
		got, err := ParseAmounts(x.given...)
		switch {
		case x.wrong == "" && (err != nil || !slices.Equal(got, x.want)):
			t.Errorf("%q: %v, %v", x.given, got, err)
		case x.wrong != "" && (err == nil || !strings.Contains(err.Error(), x.wrong) || len(err.Error()) > 200):
			t.Errorf("%q: %v, %v", x.given, got, err)
		}
	}
}

// Whatever is read has parts in range and each tube once; whatever is not is
// refused in one short line.
func FuzzParseAmounts(f *testing.F) {
	for _, s := range []string{"3:ultramarine-blue,1:yellow-ochre", "0.5:x", "", ":", "1:", "-1:x", "1:é,2:\x00", "1:a,1:a"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var got []Amount
		var err error
		bounded.Work(t, len(text), func() { got, err = ParseAmounts(text) })
		if err != nil {
			bounded.Refusal(t, err, "; ")
		}
		if (err == nil) != (len(got) > 0) {
			t.Fatalf("%q: %v, %v", text, got, err)
		}
		seen := map[string]bool{}
		for _, a := range got {
			if a.ID == "" || seen[a.ID] || !(a.Parts > 0) || a.Parts > MostParts || math.IsNaN(a.Parts) {
				t.Fatalf("%q: %v", text, got)
			}
			seen[a.ID] = true
		}
	})
}
