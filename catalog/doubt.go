package catalog

import (
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// Doubt is one way in which the K and S of an estimated tube may be wrong.
type Doubt int

const (
	MoreRatio Doubt = iota // K/S 20 % higher: the masstone darker and duller
	LessRatio              // K/S 20 % lower
	BlueTilt               // S too low in the blue by half, too high in the red by half, masstone kept
	RedTilt                // the other way round
	HalfStrength
	DoubleStrength
)

// Doubts are all of them, those that can change reach first: strength only
// changes the parts of a mix.
func Doubts() []Doubt {
	return []Doubt{MoreRatio, LessRatio, BlueTilt, RedTilt, HalfStrength, DoubleStrength}
}

// ChangesReach tells whether a mix with another share could not make up for it.
func (d Doubt) ChangesReach() bool { return d < HalfStrength }

func (d Doubt) String() string {
	return [...]string{
		"K/S 20 % higher", "K/S 20 % lower", "S half higher in the blue and lower in the red",
		"S half higher in the red and lower in the blue", "half the strength", "twice the strength",
	}[d]
}

const (
	ratioOff = 1.2 // K/S of a masstone read from a chart
	tiltOff  = 1.5 // S at either end of the spectrum against its middle
)

// Doubted is the tube as it would be if the doubt held.
func (t Tube) Doubted(d Doubt) Tube {
	for b := range colour.Bands {
		k, s := 1.0, 1.0
		u := 2*float64(b)/(colour.Bands-1) - 1 // -1 at 380 nm, 1 at 730 nm
		switch d {
		case MoreRatio:
			k = ratioOff
		case LessRatio:
			k = 1 / ratioOff
		case BlueTilt:
			s = portable.Pow(tiltOff, -u)
			k = s
		case RedTilt:
			s = portable.Pow(tiltOff, u)
			k = s
		case HalfStrength:
			k, s = 0.5, 0.5
		case DoubleStrength:
			k, s = 2, 2
		}
		t.Paint.K[b] *= k
		t.Paint.S[b] *= s
	}
	return t
}
