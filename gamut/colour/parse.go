package colour

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

var callForm = regexp.MustCompile(`^([a-z]+)\s*\(([^()]*)\)$`)

// Parse reads a colour as a person writes it: #rrggbb or #rgb, rgb(R G B) with
// 0..255, lab(L a b), lch(L C h). Numbers are parted by spaces or commas.
func Parse(text string) (Lab, error) {
	s := strings.ToLower(strings.TrimSpace(text))
	if strings.HasPrefix(s, "#") {
		return parseHex(s, text)
	}
	m := callForm.FindStringSubmatch(s)
	if m == nil {
		return Lab{}, fmt.Errorf("colour %q not understood: write #rrggbb, rgb(R G B), lab(L a b) or lch(L C h)", clip(text))
	}
	v, err := threeNumbers(m[2])
	if err != nil {
		return Lab{}, fmt.Errorf("colour %q: %w", clip(text), err)
	}
	switch m[1] {
	case "rgb":
		for _, x := range v {
			if x < 0 || x > 255 {
				return Lab{}, fmt.Errorf("colour %q: rgb channels run from 0 to 255", clip(text))
			}
		}
		return SRGB{v[0] / 255, v[1] / 255, v[2] / 255}.Lab(), nil
	case "lab":
		return checked(Lab{v[0], v[1], v[2]}, text)
	case "lch":
		if v[1] < 0 {
			return Lab{}, fmt.Errorf("colour %q: chroma cannot be negative", clip(text))
		}
		return checked(LCh{v[0], v[1], v[2]}.Lab(), text)
	}
	return Lab{}, fmt.Errorf("colour %q: %q is not a notation known here: use rgb, lab, lch or #rrggbb", clip(text), m[1])
}

func parseHex(s, text string) (Lab, error) {
	digits := s[1:]
	if len(digits) == 3 {
		digits = string([]byte{digits[0], digits[0], digits[1], digits[1], digits[2], digits[2]})
	}
	n, err := strconv.ParseUint(digits, 16, 32)
	if err != nil || len(digits) != 6 {
		return Lab{}, fmt.Errorf("colour %q: # takes six hexadecimal digits, as in #7a8c5a", clip(text))
	}
	return SRGB{float64(n>>16) / 255, float64(n>>8&255) / 255, float64(n&255) / 255}.Lab(), nil
}

func threeNumbers(s string) (v [3]float64, err error) {
	fields := strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ' ' || r == '\t' })
	if len(fields) != 3 {
		return v, fmt.Errorf("three numbers are wanted, %d found", len(fields))
	}
	for i, f := range fields {
		v[i], err = strconv.ParseFloat(f, 64)
		if err != nil || math.IsNaN(v[i]) || math.IsInf(v[i], 0) {
			return v, fmt.Errorf("%q is not a number", clip(f))
		}
	}
	return v, nil
}

// checked refuses coordinates no surface colour has.
func checked(c Lab, text string) (Lab, error) {
	if c.L < 0 || c.L > 100 {
		return Lab{}, fmt.Errorf("colour %q: L runs from 0 to 100", clip(text))
	}
	if math.Hypot(c.A, c.B) > 200 {
		return Lab{}, fmt.Errorf("colour %q: a chroma over 200 is no surface colour", clip(text))
	}
	return c, nil
}

// clip shortens what is quoted back to a person.
func clip(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "..."
	}
	return s
}
