package owntubes

import (
	"fewtubes/catalog"
	"fewtubes/gamut/film"
	"fewtubes/gamut/film/doubt"
)

// File is what the painter's file says. Its tubes stand beside the catalogue's
// and replace those of the same id, or stand instead of them all.
type File struct {
	Instead  bool
	Tubes    []Tube
	Swatches []Swatch // what the painter painted with them

	name string
	at   lineIndex
}

// New is a file still to be written; name stands in errors.
func New(name string) *File { return &File{name: name} }

// Tube is one entry. What it leaves out is taken from the tube it is like, or
// stays empty.
type Tube struct {
	ID            string
	Like          string // id in the catalogue
	Name          string
	Pigments      []string
	Basis         catalog.Basis // of Film; empty: fitted
	Source        string
	Hazards       []string
	Caution       string
	Lightfastness string
	Opacity       string
	Drying        string
	Density       *float64 // g/ml
	Price         *int     // hundredths of a currency unit
	SizeML        *float64
	NotOwned      bool // have = false: it must be bought at its price

	// At most one of these; none where it is like another tube.
	Film    *Film
	Colours *Colours
	Mix     []Part
}

// Film is K and S at equally spaced wavelengths, on the scale where titanium
// white scatters 1.
type Film struct {
	Surface     film.Surface
	Start, Step int // nm
	K, S        []float64
	Doubt       *doubt.Spread // nil: as the basis has it
}

// Colours are a masstone and a tint in Parts of titanium white as typed, for
// colour.Parse, seen in D65.
type Colours struct {
	Masstone, Tint string
	Parts          float64
}

// Part of a mixture, by volume.
type Part struct {
	Tube  string  `toml:"tube"` // id in the catalogue or earlier in the file
	Parts float64 `toml:"parts"`
}

// Of is the entry that holds a tube as it is, K and S at the catalogue's nodes and
// under its surface.
func Of(t *catalog.Tube, surface film.Surface) Tube {
	n, left := t.Paint.Nodes(), t.Doubt
	density, size, price := t.Density, t.SizeML, t.Price
	e := Tube{
		ID: t.ID, Name: t.Name, Pigments: t.Pigments, Basis: t.Basis, Source: t.Source, Hazards: t.Hazards, Caution: t.Caution,
		Lightfastness: t.Lightfastness, Opacity: t.Opacity, Drying: t.Drying, Price: &price, NotOwned: !t.Have,
		Film: &Film{Surface: surface, Start: film.NodeStartNM, Step: film.NodeStepNM, K: n.K[:], S: n.S[:], Doubt: &left},
	}
	if density > 0 {
		e.Density = &density
	}
	if size > 0 {
		e.SizeML = &size
	}
	return e
}
