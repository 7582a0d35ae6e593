package air

import (
	"errors"
	"fmt"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

const (
	// Koschmieder is the optical depth, -ln 0.02, at the visual range.
	Koschmieder = 3.912
	// Molecular is the extinction of clean air at sea level and 550 nm, per km
	// (R. Penndorf, J. Opt. Soc. Am. 47:176-182, 1957, from memory: 0.01162).
	Molecular = 0.0116
	// Farthest is the visual range of clean air, km.
	Farthest = Koschmieder / Molecular
	// UsualExponent is the power by which the extinction of particles falls with
	// wavelength on a usual day (A. Ångström, Geogr. Ann. 11:156-166, 1929).
	UsualExponent = 1.3
	// MostExponent is that of particles as small as molecules.
	MostExponent = 4.0

	reference = 550.0 // nm
)

// Air is air of one visual range.
type Air struct {
	Range      float64               // visual range, km
	Exponent   float64               // of the particles, 0 (fog) to 4
	Extinction [colour.Bands]float64 // per km
}

// New is the air of a visual range in km, over 0 and at most Farthest, with
// particles of an exponent from 0 to MostExponent.
func New(visualRange, exponent float64) (*Air, error) {
	switch {
	case !(visualRange > 0):
		return nil, errors.New("a visual range is over 0 km")
	case visualRange > Farthest:
		return nil, fmt.Errorf("a visual range of %.0f km is beyond that of clean air, %.0f km", visualRange, Farthest)
	case !(exponent >= 0 && exponent <= MostExponent):
		return nil, fmt.Errorf("an exponent of particles lies between 0 and %g", MostExponent)
	}
	a := &Air{Range: visualRange, Exponent: exponent}
	particles := Koschmieder/visualRange - Molecular
	for i := range a.Extinction {
		ratio := reference / float64(colour.StartNM+i*colour.StepNM)
		square := float64(ratio * ratio)
		a.Extinction[i] = float64(Molecular*square*square) + float64(max(0, particles)*portable.Pow(ratio, exponent))
	}
	return a, nil
}

// At550 is the extinction at 550 nm, per km.
func (a *Air) At550() float64 { return Koschmieder / a.Range }

// Deciview is the haze index of an extinction per km: 0 in the cleanest air, and
// one more for each tenth that the extinction grows by (M. L. Pitchford,
// W. C. Malm, Atmos. Environ. 28:1049-1054, 1994, eq. 1).
func Deciview(extinction float64) float64 {
	const cleanest = 0.01 // per km, 10 per Mm
	return 10 * portable.Log(extinction/cleanest)
}

// Transmission is what is left of each band's light after a way of so many km.
func (a *Air) Transmission(km float64) (t colour.Spectrum) {
	for i, b := range a.Extinction {
		t[i] = portable.Exp(-b * km)
	}
	return t
}

// Seen is a surface seen through km of air before an airlight.
func (a *Air) Seen(surface, airlight *colour.Spectrum, km float64) (seen colour.Spectrum) {
	t := a.Transmission(km)
	for i := range seen {
		seen[i] = float64(surface[i]*t[i]) + float64(airlight[i]*(1-t[i]))
	}
	return seen
}

// Cleared is the surface that looks so through km of air: the inverse of Seen.
// What no surface does, to return less than nothing or more than all, is cut off.
func (a *Air) Cleared(seen, airlight *colour.Spectrum, km float64) (surface colour.Spectrum) {
	t := a.Transmission(km)
	for i := range surface {
		left := seen[i] - float64(airlight[i]*(1-t[i]))
		switch {
		case left <= 0:
			surface[i] = 0
		case left >= t[i]:
			surface[i] = 1
		default:
			surface[i] = left / t[i]
		}
	}
	return surface
}
