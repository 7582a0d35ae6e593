package colour

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"fewtubes/gamut/portable"

	"github.com/lucasb-eyer/go-colorful"
)

var (
	callForm   = regexp.MustCompile(`^([a-z]+)\s*\(([^()]*)\)$`)
	numberForm = regexp.MustCompile(`^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$`)
)

// Parse reads a colour as a person writes it: #rrggbb or #rgb, rgb(R G B) with
// 0..255, lab(L a b), lch(L C h). Numbers are parted by spaces or commas; as in
// CSS Color 4, rgb channels and L may be percentages and a hue may end in deg.
// A hue is taken modulo 360. lab and lch refer to the white of the light in
// use, not to the D50 of CSS. Munsell notation is read plain, "5GY 5/6" or
// "N 5/", or as munsell(5GY 5/6), inside the renotation data (Munsell.Lab).
func Parse(text string) (Lab, error) {
	s := strings.ToLower(strings.TrimSpace(text))
	if strings.HasPrefix(s, "#") {
		return parseHex(s, text)
	}
	m := callForm.FindStringSubmatch(s)
	if m == nil && strings.Contains(s, "/") {
		m = []string{s, "munsell", s}
	}
	if m == nil {
		return Lab{}, fmt.Errorf("colour %q not understood; write #rrggbb, rgb(R G B), lab(L a b), lch(L C h) or Munsell notation such as 5GY 5/6", clip(text))
	}
	read := map[string]func(string) (Lab, error){"rgb": parseRGB, "lab": parseLab, "lch": parseLCh, "munsell": munsellLab}[m[1]]
	if read == nil {
		return Lab{}, fmt.Errorf("colour %q: %q is not a notation known here; use rgb, lab, lch, munsell or #rrggbb", clip(text), clip(m[1]))
	}
	c, err := read(m[2])
	if err != nil {
		return Lab{}, fmt.Errorf("colour %q: %w", clip(text), err)
	}
	return c, nil
}

func parseRGB(args string) (Lab, error) {
	v, err := threeNumbers(args, [3]unit{{"%", 2.55}, {"%", 2.55}, {"%", 2.55}})
	if err != nil {
		return Lab{}, err
	}
	for _, x := range v {
		if x < 0 || x > 255 {
			return Lab{}, errors.New("a channel is out of range; rgb channels run from 0 to 255, or 0% to 100%")
		}
	}
	return SRGB{v[0] / 255, v[1] / 255, v[2] / 255}.Lab(), nil
}

func parseLab(args string) (Lab, error) {
	v, err := threeNumbers(args, [3]unit{{"%", 1}})
	if err != nil {
		return Lab{}, err
	}
	return plausible(Lab{v[0], v[1], v[2]})
}

func parseLCh(args string) (Lab, error) {
	v, err := threeNumbers(args, [3]unit{{"%", 1}, {}, {"deg", 1}})
	if err != nil {
		return Lab{}, err
	}
	if v[1] < 0 {
		return Lab{}, errors.New("chroma cannot be negative; write 0 or more")
	}
	return plausible(LCh{v[0], v[1], math.Mod(v[2], 360)}.Lab())
}

// munsellLab refuses what the renotation does not hold: an extrapolated colour
// is no target to match paint to.
func munsellLab(args string) (Lab, error) {
	m, err := parseMunsell(args)
	if err != nil {
		return Lab{}, err
	}
	c, inside := m.Lab()
	switch {
	case inside:
		return c, nil
	case m.Value < 1 || m.Value > 9:
		return Lab{}, errors.New("the Munsell renotation does not hold this value; it covers values 1 to 9, and all neutrals")
	}
	return Lab{}, fmt.Errorf("the Munsell renotation does not hold this colour; it ends at chroma %.1f for this hue and value", m.mostChroma())
}

// plausible refuses coordinates no surface colour has.
func plausible(c Lab) (Lab, error) {
	if c.L < 0 || c.L > 100 {
		return Lab{}, errors.New("the lightness is out of range; L runs from 0 to 100")
	}
	if portable.Hypot(c.A, c.B) > 200 {
		return Lab{}, errors.New("a chroma over 200 is no surface colour; write 200 or less")
	}
	return c, nil
}

func parseHex(s, text string) (Lab, error) {
	c, err := colorful.Hex(s)
	if err != nil {
		return Lab{}, fmt.Errorf("colour %q: # takes six hexadecimal digits; write it as in #7a8c5a", clip(text))
	}
	r, g, b := c.RGB255()
	return SRGB{float64(r) / 255, float64(g) / 255, float64(b) / 255}.Lab(), nil
}

// unit is a suffix a number may carry and the factor it stands for.
type unit struct {
	suffix string
	factor float64
}

func threeNumbers(s string, units [3]unit) (v [3]float64, err error) {
	fields := strings.FieldsFunc(s, func(r rune) bool { return r == ',' || unicode.IsSpace(r) })
	if len(fields) != 3 {
		return v, fmt.Errorf("three numbers are wanted, %d found; part them with blanks, as in lab(52 -8 20)", len(fields))
	}
	for i, f := range fields {
		if v[i], err = number(f, units[i]); err != nil {
			return v, err
		}
	}
	return v, nil
}

func number(f string, u unit) (float64, error) {
	digits, factor := f, 1.0
	if u.suffix != "" && strings.HasSuffix(f, u.suffix) {
		digits, factor = strings.TrimSuffix(f, u.suffix), u.factor
	}
	// A true minus sign is what word processors and papers print.
	digits = strings.Replace(digits, "\u2212", "-", 1)
	x, err := strconv.ParseFloat(digits, 64)
	if err != nil || !numberForm.MatchString(digits) {
		return 0, fmt.Errorf("%q is not a number that can stand there; write plain decimals, as in lab(52 -8 20)", clip(f))
	}
	return x * factor, nil
}

// clip shortens what is quoted back to a person and leaves out what cannot be
// printed.
func clip(s string) string {
	const most = 40
	r := []rune(strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return '?'
		}
		return r
	}, s))
	if len(r) > most {
		return string(r[:most]) + "..."
	}
	return string(r)
}
