package scene

import (
	"fewtubes/gamut/film"
	"fewtubes/solver"
)

// document is the file as TOML has it. Pointers tell what was left out from
// what was set to nothing.
type document struct {
	Format    *int64      `toml:"format"`
	Title     string      `toml:"title"`
	Tolerance *float64    `toml:"tolerance"`
	Light     string      `toml:"light"`
	Surface   film.View   `toml:"surface"`
	Limits    docLimits   `toml:"limits"`
	Photo     []docPhoto  `toml:"photo"`
	Target    []docTarget `toml:"target"`
}

type docLimits struct {
	MaxTubes     *int              `toml:"max-tubes"`
	Budget       *float64          `toml:"budget"`
	Avoid        []string          `toml:"avoid"`
	Keep         []string          `toml:"keep"`
	Never        []string          `toml:"never"`
	Only         []string          `toml:"only"`
	Own          []string          `toml:"own"`
	AtMostOne    [][]string        `toml:"at-most-one"`
	PaintsPerMix *int              `toml:"paints-per-mix"`
	Prefer       solver.Preference `toml:"prefer"`
}

type docPhoto struct {
	Name    string   `toml:"name"`
	File    string   `toml:"file"`
	Targets int      `toml:"targets"`
	Planes  []string `toml:"planes"`
	Values  *struct {
		From []float64 `toml:"from"`
		To   []float64 `toml:"to"`
	} `toml:"values"`
}

type docTarget struct {
	Name      string   `toml:"name"`
	Colour    string   `toml:"colour"`
	Plane     string   `toml:"plane"`
	Area      *float64 `toml:"area"`
	Tolerance *float64 `toml:"tolerance"`
	At        *docSpot `toml:"at"`
}

type docSpot struct {
	Photo  string   `toml:"photo"`
	X      *float64 `toml:"x"`
	Y      *float64 `toml:"y"`
	Radius *float64 `toml:"radius"`
}
