package readings

import (
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/colour"
)

// Limits that no honest file reaches.
const (
	maxBytes   = 16 << 20
	maxSamples = 2000
	maxFields  = 1000
	maxTubes   = 64
	maxDepth   = 40
	maxText    = 1 << 16 // of one field
)

// Error is a mistake in a file of readings that its writer can mend.
type Error = scene.Error

// Backing is what lies under a sample.
type Backing int

const (
	Opaque Backing = iota
	OverWhite
	OverBlack
)

func (b Backing) String() string { return [...]string{"opaque", "white", "black"}[b] }

// Part is one tube of a recipe; Amount > 0, Density 0 where not stated.
type Part struct {
	Tube    string
	Amount  float64
	Density float64 // g/ml
}

// Sample is one reading of the file.
type Sample struct {
	Name      string
	Line      int
	Parts     []Part // empty: the bare chart of Backing
	ByWeight  bool
	Backing   Backing
	Thickness float64 // micrometres where its name says so; 0: unknown
	Film      string  // of unknown thickness, shared by name; "": not said
	Seen      colour.Spectrum
	Have      [colour.Bands]bool
}

// Set is a file of readings.
type Set struct {
	File    string
	Samples []Sample
	LeftOut []error // one for each sample that could not be read, each an *Error
}

// raw is a sample as a format's reader found it.
type raw struct {
	line                     int
	name, recipe             string
	backing, thickness, film string
	wavelengths, values      []float64
}

// wrong is an error about one sample.
func (s *Set) wrong(line int, field, msg, remedy string) error {
	return &Error{File: s.File, Line: line, Field: field, Msg: msg, Remedy: remedy}
}
