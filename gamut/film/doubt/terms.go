package doubt

import (
	"math"

	"fewtubes/gamut/colour"
)

// The terms of a deviation: g, l, the five of r, the five of s.
const (
	Strength   = 0
	Scattering = 1
	KShape     = 2
	SShape     = KShape + Gaussians
	Terms      = SShape + Gaussians

	Gaussians = 5
)

// Deviation is one value of each term.
type Deviation [Terms]float64

// Where the Gaussians stand and how wide they are (standard deviation), nm.
const (
	firstNM = 400.0
	lastNM  = 700.0
	widthNM = 60.0
)

// gaussians are the five by band, scaled so that with independent terms of
// standard deviation 1 their sum has, over 400-700 nm, a mean square of 1.
var gaussians = func() (g [Gaussians][colour.Bands]float64) {
	const step = (lastNM - firstNM) / (Gaussians - 1)
	sum, n := 0.0, 0.0
	for b := range colour.Bands {
		nm := float64(colour.StartNM + b*colour.StepNM)
		for i := range g {
			d := (nm - firstNM - float64(float64(i)*step)) / widthNM
			g[i][b] = exp(-float64(d*d) / 2)
			if nm >= firstNM && nm <= lastNM {
				sum += float64(g[i][b] * g[i][b])
			}
		}
		if nm >= firstNM && nm <= lastNM {
			n++
		}
	}
	by := math.Sqrt(n / sum)
	for i := range g {
		for b := range g[i] {
			g[i][b] *= by
		}
	}
	return g
}()

// levels are the means of the Gaussians over 400-700 nm.
var levels = func() (mean [Gaussians]float64) {
	for i := range mean {
		n := 0.0
		for b, v := range gaussians[i] {
			if nm := float64(colour.StartNM + b*colour.StepNM); nm >= firstNM && nm <= lastNM {
				mean[i] += v
				n++
			}
		}
		mean[i] /= n
	}
	return mean
}()

// Logs are what a deviation adds to ln K and ln S in each band.
func (d *Deviation) Logs() (k, s [colour.Bands]float64) {
	for b := range k {
		r, t := 0.0, 0.0
		for i := range Gaussians {
			r += float64(d[KShape+i] * gaussians[i][b])
			t += float64(d[SShape+i] * gaussians[i][b])
		}
		k[b] = d[Strength] + r
		s[b] = d[Strength] + d[Scattering] + t
	}
	return k, s
}

// Factors are what a deviation multiplies K and S by in each band.
func (d *Deviation) Factors() (k, s [colour.Bands]float64) {
	k, s = d.Logs()
	for b := range k {
		k[b], s[b] = exp(k[b]), exp(s[b])
	}
	return k, s
}
