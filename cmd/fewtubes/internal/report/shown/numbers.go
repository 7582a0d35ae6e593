package shown

import (
	"math"
	"strconv"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
)

// Hundredths and Cents are written alike here and in what the solver answers.
type (
	Hundredths = colour.Hundredths
	Cents      = catalog.Cents
)

// Tenths is a number shown with one decimal: a value, a chroma, a hue angle.
type Tenths float64

// Millionths is a number shown with up to six decimals: a volume share.
type Millionths float64

func (t Tenths) String() string { return Digits(float64(t), 1) }

// MarshalJSON writes the digits that text and page show.
func (t Tenths) MarshalJSON() ([]byte, error) { return []byte(t.String()), nil }

// MarshalJSON writes six decimals without trailing zeros.
func (m Millionths) MarshalJSON() ([]byte, error) {
	return strconv.AppendFloat(nil, math.Round(float64(m)*1e6)/1e6, 'f', -1, 64), nil
}

// Percent is a fraction in percent with two decimals, held together by a hard
// blank.
func (m Millionths) Percent() string { return Digits(float64(m)*100, 2) + "\u00a0%" }

// Digits rounds to n decimals and never writes a negative zero.
func Digits(v float64, n int) string {
	s := strconv.FormatFloat(v, 'f', n, 64)
	if r, err := strconv.ParseFloat(s, 64); err == nil && r == 0 {
		s = strconv.FormatFloat(0, 'f', n, 64)
	}
	return s
}

// Without is how near one comes without some tubes; +Inf where no tube is left.
type Without float64

func (w Without) String() string {
	if math.IsInf(float64(w), 1) {
		return "no paint left"
	}
	return Digits(float64(w), 2)
}

// Sentence says what the number is.
func (w Without) Sentence() string {
	if math.IsInf(float64(w), 1) {
		return w.String()
	}
	return "ΔE00 " + w.String()
}

// MarshalJSON writes the digits that text and page show, and null where no tube
// is left.
func (w Without) MarshalJSON() ([]byte, error) {
	if math.IsInf(float64(w), 1) {
		return []byte("null"), nil
	}
	return []byte(w.String()), nil
}

// WithoutOf is DE of a colour that is missed.
func WithoutOf(de, tolerance float64) Without {
	if math.IsInf(de, 1) {
		return Without(de)
	}
	return Without(DE(de, tolerance, false))
}

// DE rounds a difference to what is shown without contradicting the
// verdict: a colour that is missed never shows a difference within tolerance.
func DE(de, tolerance float64, reached bool) Hundredths {
	r := Nearest(de)
	if !reached && de > tolerance && float64(r) <= tolerance {
		r = Hundredths(math.Floor(float64(tolerance*100)+1) / 100)
	}
	return r
}

// Nearest is a number in the digits that are shown.
func Nearest(v float64) Hundredths { return Hundredths(v).Rounded() }

// ML is a volume in millilitres, rounded up so that it is enough: to tenths below five,
// else to whole ones.
type ML float64

func (v ML) String() string {
	if tenths := max(1, math.Ceil(float64(float64(v)*10)-1e-9)); tenths < 50 {
		return Digits(tenths/10, 1)
	}
	return Digits(math.Ceil(float64(v)-1e-9), 0)
}

// MarshalJSON writes the digits that text and page show.
func (v ML) MarshalJSON() ([]byte, error) { return []byte(v.String()), nil }
