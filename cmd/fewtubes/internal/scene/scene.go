package scene

import (
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/solver"
)

// DefaultTolerance is the CIEDE2000 within which a colour counts as reached
// when the scene does not say: about the error published for mixing models
// whose paints were fitted to their own tints (2 to 3), so that asking for less
// would be asking more than the model knows.
const DefaultTolerance = 3.0

// defaultArea gives targets without an area the same weight.
const defaultArea = 1.0

// Planes are the planes of a landscape, nearest first.
var Planes = []string{"foreground", "middle", "distance", "sky"}

// Scene is a checked scene file. The zero value of a field it does not set is
// the default; a Scene made in code rather than read is checked by Check.
type Scene struct {
	Title     string
	Tolerance float64   // CIEDE2000, > 0
	Light     string    // D65, D50 or A
	Surface   film.View // dry or no-glare; empty: dry
	Limits    Limits
	Photos    []Photo
	Targets   []Target

	file string
	at   lineIndex
}

// Limits are what the painter allows; see solver.Limits for the meaning of each.
type Limits struct {
	MaxTubes     int      // 0: no limit
	Budget       *float64 // currency units, >= 0; nil: no limit
	Avoid        []string
	Keep         []string
	Never        []string
	Only         []string
	Own          []string
	AtMostOne    [][]string
	PaintsPerMix int // 0: the default of the solver
	Prefer       solver.Preference
}

// Photo is a picture the targets were taken from, with what it takes to sample
// it again and get the same targets.
type Photo struct {
	Name    string
	File    string        // as written: relative to the scene file
	Targets int           // asked of the sampling; 0: not sampled
	Planes  []PlaneBand   // where each plane lies
	Values  *values.Curve // the values were moved by this curve; nil: as seen
}

// PlaneBand says that a plane lies between two heights of a picture.
type PlaneBand struct {
	Plane    string
	From, To float64 // fractions of the height, 0 at the top
}

// Target is a colour the scene needs.
type Target struct {
	Name      string
	Colour    string     // as written
	Lab       colour.Lab // what Colour says
	Plane     string     // one of Planes, or empty
	Area      float64    // relative, >= 0
	Tolerance float64    // 0: the scene's
	At        *Spot      // where it was picked; nil: it was not
}

// Spot is a round patch of a photograph, in fractions so that it outlives a
// change of size: X and Radius of the width, Y of the height, from the top left
// after turning the picture upright.
type Spot struct {
	Photo        string
	X, Y, Radius float64
}
