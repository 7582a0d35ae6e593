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

// defaultArea gives targets the same weight where nothing tells them apart.
const defaultArea = 1.0

// Planes are the planes of a landscape, nearest first.
var Planes = []string{"foreground", "middle", "distance", "sky"}

// Scene is a scene as its file, the page and the program have it. Read and Parse
// check it; one made otherwise is checked by Check.
type Scene struct {
	Title     string    `toml:"title" json:"title"`
	Tolerance float64   `toml:"tolerance" json:"tolerance"`            // CIEDE2000, > 0
	Light     string    `toml:"light" json:"light"`                    // D65, D50 or A
	Surface   film.View `toml:"surface" json:"surface,omitempty"`      // dry or no-glare; empty: dry
	Palette   []string  `toml:"palette" json:"savedPalette,omitempty"` // tubes decided on; empty: none yet
	Limits    Limits    `toml:"limits" json:"limits"`
	Air       *Air      `toml:"air" json:"air,omitempty"` // nil: nothing is said of it
	Photos    []Photo   `toml:"photo" json:"photos"`
	Targets   []Target  `toml:"target" json:"targets"`

	file string
	at   lineIndex
}

// Limits are what the painter allows; see solver.Limits for the meaning of each.
type Limits struct {
	MaxTubes     int               `toml:"max-tubes" json:"maxTubes,omitempty"` // 0: no limit
	Budget       *float64          `toml:"budget" json:"budget,omitempty"`      // currency units, >= 0; nil: no limit
	Avoid        []string          `toml:"avoid" json:"avoid,omitempty"`
	Keep         []string          `toml:"keep" json:"keep,omitempty"`
	Never        []string          `toml:"never" json:"never,omitempty"`
	Only         []string          `toml:"only" json:"only,omitempty"`
	Own          []string          `toml:"own" json:"own,omitempty"`
	AtMostOne    [][]string        `toml:"at-most-one" json:"atMostOne,omitempty"`
	PaintsPerMix int               `toml:"paints-per-mix" json:"paintsPerMix,omitempty"` // 0: the default of the solver
	ByHand       bool              `toml:"by-hand" json:"byHand,omitempty"`
	Prefer       solver.Preference `toml:"prefer" json:"prefer,omitempty"`
}

// Photo is a picture the targets were taken from, with what it takes to sample
// it again and get the same targets.
type Photo struct {
	Name      string        `toml:"name" json:"name"`
	File      string        `toml:"file" json:"file"`                    // as written: relative to the scene file
	Targets   int           `toml:"targets" json:"targets,omitempty"`    // asked of the sampling; 0: not sampled
	Planes    []PlaneShape  `toml:"planes" json:"planes,omitempty"`      // where each plane lies
	Distances Distances     `toml:"distances" json:"distances,omitzero"` // how far off they lie there, where not as in the composition
	Crop      []float64     `toml:"crop" json:"crop,omitempty"`          // left, top, right, bottom of what counts, fractions; empty: all of it
	Values    *values.Curve `toml:"values" json:"values,omitempty"`      // the values were moved by this curve; nil: as seen
}

// Target is a colour the scene needs.
type Target struct {
	Name      string     `toml:"name" json:"name"`
	Colour    string     `toml:"colour" json:"colour"`                 // as written
	Lab       colour.Lab `toml:"-" json:"-"`                           // what Colour says
	Plane     string     `toml:"plane" json:"plane,omitempty"`         // one of Planes, or empty
	Area      float64    `toml:"area" json:"area"`                     // relative, >= 0; by its plane when left out
	Tolerance float64    `toml:"tolerance" json:"tolerance,omitempty"` // 0: the scene's
	Seen      string     `toml:"seen" json:"seen,omitempty"`           // how far off, as written; empty: see SeenKM
	At        *Spot      `toml:"at" json:"at,omitempty"`               // where it was picked; nil: it was not
}

// Spot is a round patch of a photograph, in fractions so that it outlives a
// change of size: X and Radius of the width, Y of the height, from the top left
// after turning the picture upright.
type Spot struct {
	Photo  string  `toml:"photo" json:"photo"`
	X      float64 `toml:"x" json:"x"`
	Y      float64 `toml:"y" json:"y"`
	Radius float64 `toml:"radius" json:"radius"`
}
