package air

import (
	"fmt"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
)

// Hue is a reading of what becomes of a hue in the distance.
type Hue string

const (
	Measured  Hue = "measured" // as an instrument has it: it turns to that of the airlight
	Perceived Hue = "seen"     // as the eye has it: it holds while colourfulness falls
)

// ParseHue reads measured or seen; nothing stands for measured.
func ParseHue(name string) (Hue, error) {
	switch h := Hue(name); h {
	case "", Measured:
		return Measured, nil
	case Perceived:
		return h, nil
	}
	return "", fmt.Errorf("unknown reading of hue %q; use measured or seen", name)
}

// View is a landscape's air as a painter looks through it.
type View struct {
	air      *Air
	light    *colour.Light
	airlight colour.Spectrum
	hue      Hue
}

// NewView looks through the air towards an airlight, a colour under the light; one
// stronger than any reflectance is taken for the nearest that has one.
func NewView(a *Air, airlight colour.Lab, light *colour.Light, hue Hue) *View {
	return &View{a, light, reconstructed(airlight, light).bands, hue}
}

// Moved is a colour seen through from km of air as it is seen through to km. A
// colour that no surface has at the first distance is taken for the nearest that
// one has; where the distances are the same it stays as it is.
func (v *View) Moved(c colour.Lab, from, to float64) colour.Lab {
	if from == to {
		return c
	}
	return v.through(c, v.spectral(c), from, to)
}

// Possible is the colour nearest to this one that a surface can have through km
// of air, by the law band by band: far off nothing is darker than the airlight
// before it, or stronger than the air lets through.
func (v *View) Possible(c colour.Lab, km float64) colour.Lab {
	return v.through(c, v.spectral(c), km, km)
}

// farthestSought is beyond any landscape, km.
const farthestSought = 1000.0

// Farthest is how far off a surface of this colour can lie, km, and still be
// within slack, CIEDE2000, of what the law lets it be; farther than any
// landscape where nothing bounds it.
func (v *View) Farthest(c colour.Lab, slack float64) float64 {
	s := v.spectral(c)
	at := func(km float64) bool { return colour.DE2000(v.through(c, s, km, km), c) <= slack }
	if at(farthestSought) {
		return farthestSought
	}
	near, far := 0.0, farthestSought
	for far-near > 0.005 {
		middle := (near + far) / 2
		if at(middle) {
			near = middle
		} else {
			far = middle
		}
	}
	return near
}

func (v *View) through(c colour.Lab, s spectral, from, to float64) colour.Lab {
	bare := v.air.Cleared(&s.bands, &v.airlight, from)
	seen := v.air.Seen(&bare, &v.airlight, to)
	// What the bands do not hold of the colour fades as 550 nm does.
	xyz := sum(v.light.XYZ(&seen), s.rest, min(1, v.left(to-from)))
	measured := colour.XYZ{X: max(0, xyz.X), Y: max(0, xyz.Y), Z: max(0, xyz.Z)}.Lab(v.light.White)
	if v.hue != Perceived {
		return measured
	}
	p := c.LCh()
	bright := v.strongest(colour.LCh{L: v.light.Lab(&bare).L, C: mostChroma, H: p.H})
	if there := v.left(from); p.C < float64(bright*there) {
		bright = p.C / there
	}
	return colour.LCh{L: measured.L, C: float64(bright * v.left(to)), H: p.H}.Lab()
}

// left is what is left of the light of 550 nm.
func (v *View) left(km float64) float64 { return portable.Exp(-v.air.At550() * km) }

// strongest is the chroma a surface can have at a lightness and hue, at most the
// one given.
func (v *View) strongest(p colour.LCh) float64 {
	_, share := nearestSpectrum(colour.Lab{L: p.L}, p.Lab(), v.light)
	return float64(p.C * share)
}

// mostChroma is beyond that of any surface.
const mostChroma = 150.0

// spectral is a colour as reflectance band by band, and what of it no
// reflectance holds.
type spectral struct {
	bands colour.Spectrum
	rest  colour.XYZ
}

func (v *View) spectral(c colour.Lab) spectral { return reconstructed(c, v.light) }

// reconstructed takes the smoothest reflectance of a colour or, where it has
// none, of the colour nearest to it on the way to a middle grey.
func reconstructed(c colour.Lab, light *colour.Light) spectral {
	bands, share := nearestSpectrum(colour.Lab{L: 50}, c, light)
	if share == 1 {
		return spectral{bands: bands}
	}
	return spectral{bands, sum(c.XYZ(light.White), light.XYZ(&bands), -1)}
}

// nearestSpectrum goes from a grey as far towards a colour as reflectances go,
// and says what share of the way that is. A grey that has none itself is its
// flat reflectance.
func nearestSpectrum(grey, c colour.Lab, light *colour.Light) (bands colour.Spectrum, share float64) {
	bands, err := film.Reconstruct(c, light, film.Surface{})
	if err == nil {
		return bands, 1
	}
	bands = colour.Flat(min(max(grey.XYZ(light.White).Y/100, 0), 1))
	beyond := 1.0
	for beyond-share > 1e-4 {
		middle := (share + beyond) / 2
		tried, err := film.Reconstruct(between(grey, c, middle), light, film.Surface{})
		if err == nil {
			bands, share = tried, middle
		} else {
			beyond = middle
		}
	}
	return bands, share
}

func between(a, b colour.Lab, share float64) colour.Lab {
	return colour.Lab{L: a.L + float64(share*(b.L-a.L)), A: a.A + float64(share*(b.A-a.A)), B: a.B + float64(share*(b.B-a.B))}
}

func sum(a, b colour.XYZ, times float64) colour.XYZ {
	return colour.XYZ{X: a.X + float64(times*b.X), Y: a.Y + float64(times*b.Y), Z: a.Z + float64(times*b.Z)}
}
