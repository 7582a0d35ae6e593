package owntubes

import "fewtubes/gamut/film"

// document is the file as TOML has it. Pointers tell what was left out from
// what was set to nothing.
type document struct {
	Format    *int64    `toml:"format"`
	Catalogue string    `toml:"catalogue"`
	Tube      []docTube `toml:"tube"`
	Swatch    []Swatch  `toml:"swatch"`
}

type docTube struct {
	ID            string   `toml:"id"`
	Like          string   `toml:"like"`
	Name          string   `toml:"name"`
	Pigments      []string `toml:"pigments"`
	Basis         string   `toml:"basis"`
	Source        string   `toml:"source"`
	Hazards       []string `toml:"hazards"`
	Caution       string   `toml:"caution"`
	Lightfastness string   `toml:"lightfastness"`
	Opacity       string   `toml:"opacity"`
	Drying        string   `toml:"drying"`
	Density       *float64 `toml:"density"`
	Price         *float64 `toml:"price"`
	SizeML        *float64 `toml:"size-ml"`
	Have          *bool    `toml:"have"`

	Surface     *film.Surface   `toml:"surface"`
	Wavelengths *docWavelengths `toml:"wavelengths"`
	K           []float64       `toml:"k"`
	S           []float64       `toml:"s"`
	Doubt       *docDoubt       `toml:"doubt"`

	Masstone  string   `toml:"masstone"`
	Tint      string   `toml:"tint"`
	TintParts *float64 `toml:"tint-parts"`

	Mix []Part `toml:"mix"`
}

// docDoubt is the spread of plausible tubes: standard deviations of logarithms.
type docDoubt struct {
	Strength   float64 `toml:"strength"`
	Scattering float64 `toml:"scattering"`
	KShape     float64 `toml:"k-shape"`
	SShape     float64 `toml:"s-shape"`
}

type docWavelengths struct {
	Start int `toml:"start"`
	Step  int `toml:"step"`
}
