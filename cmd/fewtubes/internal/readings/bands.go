package readings

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"

	"fewtubes/gamut/colour"
)

// The range every reading must cover and the coarsest step, nm.
const (
	needFrom, needTo = 400.0, 700.0
	coarsest         = 10.0
)

var wavelengthName = regexp.MustCompile(`(?i)^(?:spectral_nm_?|spectral_|spec_|nm_?|r_?)?(\d{3,4}(?:\.\d+)?)(?: ?_?nm)?$`)

// wavelength reads a column name such as 400, 400 nm, R400 or SPECTRAL_NM400.
func wavelength(name string) (float64, bool) {
	m := wavelengthName.FindStringSubmatch(name)
	if m == nil {
		return 0, false
	}
	v, err := strconv.ParseFloat(m[1], 64)
	return v, err == nil && v >= 100 && v <= 3000
}

// checkWavelengths says what is wrong with a range; empty where it serves.
func checkWavelengths(at []float64) string {
	if len(at) == 0 {
		return "there are no wavelengths"
	}
	at = slices.Clone(at)
	slices.Sort(at)
	for i := 1; i < len(at); i++ {
		switch step := at[i] - at[i-1]; {
		case step == 0:
			return fmt.Sprintf("%g nm is given twice", at[i])
		case step > coarsest+1e-6 && at[i-1] < needTo && at[i] > needFrom:
			return fmt.Sprintf("%g and %g nm are more than 10 nm apart", at[i-1], at[i])
		}
	}
	if at[0] > needFrom || at[len(at)-1] < needTo {
		return fmt.Sprintf("the readings cover %g-%g nm, not 400-700", at[0], at[len(at)-1])
	}
	return ""
}

// toBands averages values at ascending wavelengths to 10 nm bands. Bands the
// readings do not reach on both sides keep the value at their centre, if any.
func toBands(at, values []float64) (s colour.Spectrum, have [colour.Bands]bool) {
	for b := range s {
		centre := float64(colour.StartNM + b*colour.StepNM)
		sum, weight, centred := 0.0, 0.0, -1
		for i, w := range at {
			d := math.Abs(w - centre)
			if d < coarsest {
				sum += float64(values[i] * (1 - d/coarsest))
				weight += 1 - d/coarsest
			}
			if d < 1e-6 {
				centred = i
			}
		}
		reached := at[0] <= centre-coarsest+finest(at) && at[len(at)-1] >= centre+coarsest-finest(at)
		switch {
		case reached && weight > 0.5:
			s[b], have[b] = sum/weight, true
		case centred >= 0:
			s[b], have[b] = values[centred], true
		}
	}
	return s, have
}

// finest is the first step of the wavelengths.
func finest(at []float64) float64 {
	if len(at) < 2 {
		return 0
	}
	return at[1] - at[0]
}
