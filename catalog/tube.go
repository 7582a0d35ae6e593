package catalog

import (
	"fewtubes/gamut/film"
	"fewtubes/gamut/film/doubt"
)

// Basis says where a tube's K and S come from.
type Basis string

const (
	Measured  Basis = "measured"  // published K and S of that pigment
	Fitted    Basis = "fitted"    // readings fitted by this program
	Estimated Basis = "estimated" // a chart patch, a borrowed scattering or a recipe
)

// Doubt is what a basis leaves in doubt, against a tube of another maker.
func (b Basis) Doubt() doubt.Spread {
	if b == Estimated {
		return doubt.Chart
	}
	return doubt.Measured
}

// Tube is one tube of paint.
type Tube struct {
	ID            string   // as typed on the command line, such as "ultramarine-blue"
	Name          string   // common name
	Pigments      []string // Colour Index generic names, such as "PB29"
	Basis         Basis
	Parts         []Part   // of a mixture of other tubes; empty for the others
	Source        string   // where the readings come from
	Hazards       []string // hazard classes, sorted, such as "cadmium"
	Caution       string   // one sentence, shown where a result touches the tube
	Lightfastness string   // ASTM D4303 class usually reported in oil: I, II, III, IV
	Opacity       string   // opaque, semi-opaque, semi-transparent, transparent
	Drying        string   // fast, medium, slow
	Density       float64  // of the paint from the tube, g/ml
	Band          int      // price band 1 (earths) .. 5
	Price         int      // indicative, hundredths of a currency unit, for SizeML; invented for the demo in the built-in catalogue
	SizeML        float64  // tube size, ml
	Have          bool     // the painter owns it
	Paint         film.Paint
	Doubt         doubt.Spread // of a tube that is no mixture: how far another maker's may lie from Paint
}
