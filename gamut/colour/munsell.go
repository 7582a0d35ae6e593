package colour

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"
)

// Munsell is a colour in Munsell notation (ASTM D1535).
type Munsell struct {
	Hue    float64 // on the scale of 100: 5 is 5R, 15 is 5YR, ..., 95 is 5RP; 0 <= Hue < 100
	Value  float64 // 0 black .. 10 white
	Chroma float64 // >= 0; 0 is neutral and has no hue
}

// munsellFamilies are the ten hue families in the order of the hue circle.
var munsellFamilies = [10]string{"R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP"}

var munsellForm = regexp.MustCompile(`^(\d*\.?\d+)\s*(R|YR|Y|GY|G|BG|B|PB|P|RP)\s*(\d*\.?\d+)\s*/\s*(\d*\.?\d+)$`)
var neutralForm = regexp.MustCompile(`^N\s*(\d*\.?\d+)\s*(?:/\s*(0?\.?0*))?$`)

// ParseMunsell reads Munsell notation: hue, value/chroma as in "5GY 5/6" or
// "2.5yr 4.5/3", and "N 5/" for a neutral. Values run from 0 to 10, hue numbers
// from 0 to 10; whether the colour exists is not asked.
func ParseMunsell(text string) (Munsell, error) {
	m, err := parseMunsell(text)
	if err != nil {
		return m, fmt.Errorf("notation %q: %w", clip(text), err)
	}
	return m, nil
}

func parseMunsell(text string) (Munsell, error) {
	s := strings.ToUpper(strings.TrimSpace(text))
	if m := neutralForm.FindStringSubmatch(s); m != nil {
		return checkedMunsell(0, m[1], "0")
	}
	m := munsellForm.FindStringSubmatch(s)
	if m == nil {
		return Munsell{}, errors.New("it is not understood as Munsell notation; write hue value/chroma as in 5GY 5/6, or N 5/ for a grey")
	}
	step, err := number(m[1], unit{})
	if err != nil || step > 10 {
		return Munsell{}, errors.New("the hue is out of range; the number before its letters runs from 0 to 10")
	}
	for i, family := range munsellFamilies {
		if family == m[2] {
			return checkedMunsell(math.Mod(float64(10*float64(i))+step, 100), m[3], m[4])
		}
	}
	panic("colour: hue family " + m[2]) // the pattern names the same ten
}

func checkedMunsell(hue float64, value, chroma string) (Munsell, error) {
	v, errV := number(value, unit{})
	c, errC := number(chroma, unit{})
	if err := errors.Join(errV, errC); err != nil || v > 10 {
		return Munsell{}, errors.New("the value is out of range; value runs from 0 to 10")
	}
	if c > 60 {
		return Munsell{}, errors.New("no colour has a chroma over 60; write what a chip of that hue has")
	}
	if c == 0 {
		hue = 0
	}
	return Munsell{hue, v, c}, nil
}

// String is the notation to a tenth in hue and chroma and a hundredth in value,
// such as "5.0GY 5.00/6.0"; a chroma below 0.05 is written as a neutral.
func (m Munsell) String() string {
	if m.Chroma < 0.05 {
		return fmt.Sprintf("N %.2f/", m.Value)
	}
	// Hue numbers run over 0 < n <= 10 within a family: 10R, not 0YR.
	tenths := int(math.Round(10*m.Hue)) % 1000
	family := (tenths + 1000 - 1) % 1000 / 100
	step := tenths - 100*family
	if step <= 0 {
		step += 1000
	}
	return fmt.Sprintf("%d.%d%s %.2f/%.1f", step/10, step%10, munsellFamilies[family], m.Value, m.Chroma)
}

// MunsellY is the luminous reflectance, 0..100 against the perfect diffuser, of
// a Munsell value 0..10 (ASTM D1535-08, the quintic of section 6).
func MunsellY(value float64) float64 {
	return float64(value * (1.1914 + float64(value*(-0.22533+float64(value*(0.23352+float64(value*(-0.020484+float64(value*0.00081939)))))))))
}

// munsellValue is the inverse of MunsellY, by Newton's method; it goes on past
// 10 for what is lighter than the perfect diffuser.
func munsellValue(y float64) float64 {
	if y <= 0 {
		return 0
	}
	v := 10 * math.Sqrt(y/100) // the square root rule of early value scales is near enough to start
	for range 100 {
		slope := 1.1914 + float64(v*(-2*0.22533+float64(v*(3*0.23352+float64(v*(-4*0.020484+float64(v*5*0.00081939)))))))
		step := (MunsellY(v) - y) / slope
		v -= step
		if math.Abs(step) < 1e-13 {
			break
		}
	}
	return v
}
