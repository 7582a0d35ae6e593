// Package shown holds figures, colours and words as every answer shows them: rounded
// once, and written as JSON with the same digits.
package shown

import (
	"bytes"
	"encoding/json"
	"regexp"
	"slices"
	"strings"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
	"fewtubes/solver"
)

// Lab is a CIELAB colour as shown, written as [L, a, b].
type Lab [3]Hundredths

// Colour is the shown colour as a colour.
func (c Lab) Colour() colour.Lab {
	return colour.Lab{L: float64(c[0]), A: float64(c[1]), B: float64(c[2])}
}

// Shares are volume fractions, written as an object from tube id to fraction.
type Shares []solver.Share

// MarshalJSON writes {"id": fraction}.
func (s Shares) MarshalJSON() ([]byte, error) {
	return Object(len(s), func(i int) (string, any) { return s[i].ID, Millionths(s[i].Fraction) })
}

// Object writes n members in the order given, so that a recipe keeps its own.
func Object(n int, member func(int) (string, any)) ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i := range n {
		if i > 0 {
			b.WriteByte(',')
		}
		key, value := member(i)
		k, err := json.Marshal(key)
		if err != nil {
			return nil, err
		}
		v, err := json.Marshal(value)
		if err != nil {
			return nil, err
		}
		b.Write(k)
		b.WriteByte(':')
		b.Write(v)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// JSON is a document as indented JSON with a final line end.
func JSON(document any) ([]byte, error) {
	if err := Finite(document); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(document); err != nil {
		return nil, err
	}
	return numberList.ReplaceAllFunc(b.Bytes(), func(list []byte) []byte {
		return bytes.ReplaceAll(bytes.Join(bytes.Fields(list), nil), []byte(","), []byte(", "))
	}), nil
}

// numberList is a list of numbers only, which is put on one line. A string
// cannot hold one, for a line end in a string is escaped.
var numberList = regexp.MustCompile(`\[\n\s+-?\d[^\[\]"{}]*\]`)

// LabOf is a colour in the digits that are shown.
func LabOf(c colour.Lab) Lab {
	return Lab{Nearest(c.L), Nearest(c.A), Nearest(c.B)}
}

// Percents is the mix in percent of its volume, largest first:
// "98.61 % titanium-white, 1.39 % ochre".
func (s Shares) Percents(name func(string) string) string {
	sorted := slices.Clone(s)
	slices.SortStableFunc(sorted, func(a, b solver.Share) int { return portable.Compare(b.Fraction, a.Fraction, portable.Fine) })
	var words []string
	for _, share := range sorted {
		if share.Fraction >= Unseen {
			words = append(words, Millionths(share.Fraction).Percent()+" "+name(share.ID))
		}
	}
	return strings.Join(words, ", ")
}

// Unseen is a share that no digit shows.
const Unseen = 0.00005
