package readings

import (
	"slices"

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
	Name string
	Line int
	Recipe
	Film string      // of unknown thickness, shared by name; "": not said
	Lab  *colour.Lab // D65, of a sample read as a colour alone; nil: Seen holds its spectrum
	Seen colour.Spectrum
	Have [colour.Bands]bool

	By    SeenBy
	Noise float64 // of the reading, root mean square CIEDE2000
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
	colour, seenBy, noise    string
	lab                      [3]string
}

// wrong is an error about one sample.
func (s *Set) wrong(line int, field, msg, remedy string) error {
	return &Error{File: s.File, Line: line, Field: field, Msg: msg, Remedy: remedy}
}

// NameTubes gives each tube of the samples the name it goes by, as called has it, but where two would
// then go by one.
func (set *Set) NameTubes(called func(name string) string) {
	of := map[string][]string{} // names written, by what they are called
	for _, s := range set.Samples {
		for _, p := range s.Parts {
			if c := called(p.Tube); !slices.Contains(of[c], p.Tube) {
				of[c] = append(of[c], p.Tube)
			}
		}
	}
	for i := range set.Samples {
		parts := slices.Clone(set.Samples[i].Parts)
		for k := range parts {
			if c := called(parts[k].Tube); len(of[c]) == 1 {
				parts[k].Tube = c
			}
		}
		set.Samples[i].Parts = parts
	}
}
