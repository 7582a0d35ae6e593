package doubt

// Spread is the doubt about a tube: the standard deviations, in natural
// logarithms, of strength (g), of scattering (l) and, at a middling wavelength, of
// the shapes of K (r) and S (s). The zero Spread is no doubt at all.
type Spread struct {
	Strength   float64 `json:"strength"`
	Scattering float64 `json:"scattering"`
	KShape     float64 `json:"k_shape"`
	SShape     float64 `json:"s_shape"`

	// together is the lower Cholesky factor of the covariance of terms that are no longer
	// independent of each other; nil where they are. The four numbers are then what each
	// term deviates by alone, of a shape in the root mean square.
	together *Covariance
}

// The spreads of tubes of one pigment from different makers, against a tube that
// stands on measurements and one that stands on a chart of patches, and of tubes
// of which two colours alone are known. How they were found and how well they
// hold stands in catalog/data/SOURCES.md.
var (
	Measured = Spread{Strength: 0.45, Scattering: 0.30, KShape: 0.16, SShape: 0.30}
	Chart    = Spread{Strength: 0.55, Scattering: 0.225, KShape: 0.65, SShape: 0.30}

	TwoColours = Spread{Strength: 0.10, Scattering: 0.10, KShape: 0.30, SShape: 0.30}
)

// Deviations are the standard deviations of the twelve terms.
func (s Spread) Deviations() (d Deviation) {
	d[Strength], d[Scattering] = s.Strength, s.Scattering
	for i := range Gaussians {
		d[KShape+i], d[SShape+i] = s.KShape, s.SShape
	}
	return d
}

// Deviation is the deviation at z standard deviations of each term, or of as many independent
// sums of them where they hang together.
func (s Spread) Deviation(z *Deviation) (at Deviation) {
	if s.together != nil {
		for i, row := range s.together {
			for j, v := range row[:i+1] {
				at[i] += float64(v * z[j])
			}
		}
		return at
	}
	d := s.Deviations()
	for i := range d {
		d[i] *= z[i]
	}
	return d
}

// Levelled is the spread whose r is a shape alone: what r would add to ln K in every band alike is
// strength, whose spread holds it already, and not a change of K/S. Between makers the level of
// K/S does not go with that of K (cmd/refit/tables/doubt.csv), so that a masstone, which tells
// K/S, does not tell how strong the paint is. A spread whose terms hang together stays as it is.
func (s Spread) Levelled() Spread {
	if s.together != nil {
		return s
	}
	l := s.Factor()
	for i, level := range levels {
		l[Strength][KShape+i] = -float64(level * s.KShape)  // K and S down,
		l[Scattering][KShape+i] = float64(level * s.KShape) // and S up again
	}
	cov := l.squared()
	return Correlated(&cov)
}
