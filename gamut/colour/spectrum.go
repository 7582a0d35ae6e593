package colour

// Bands, StartNM and StepNM describe every stored spectrum: 380-730 nm by 10 nm.
const (
	Bands   = 36
	StartNM = 380
	StepNM  = 10
)

// Spectrum is a reflectance factor (0..1, fluorescence aside) per band, band i
// centred on StartNM + i*StepNM.
type Spectrum [Bands]float64

// Flat is the spectrum with the same reflectance factor r in every band.
func Flat(r float64) Spectrum {
	var s Spectrum
	for i := range s {
		s[i] = r
	}
	return s
}
