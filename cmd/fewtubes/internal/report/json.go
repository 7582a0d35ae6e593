package report

import (
	"bytes"
	"encoding/json"
	"regexp"

	"fewtubes/gamut/colour"
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

// Part is so many parts of a tube or of a prepared pile; a quarter is a touch.
type Part struct {
	ID    string
	Parts float64
}

// Parts are parts, written as an object from id to parts.
type Parts []Part

// MarshalJSON writes {"id": fraction}.
func (s Shares) MarshalJSON() ([]byte, error) {
	return object(len(s), func(i int) (string, any) { return s[i].ID, Millionths(s[i].Fraction) })
}

// MarshalJSON writes {"id": parts}.
func (p Parts) MarshalJSON() ([]byte, error) {
	return object(len(p), func(i int) (string, any) { return p[i].ID, p[i].Parts })
}

// object writes n members in the order given, so that a recipe keeps its own.
func object(n int, member func(int) (string, any)) ([]byte, error) {
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
