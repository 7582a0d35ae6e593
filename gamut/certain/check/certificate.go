package check

import (
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// Certificate is a claim and its proof; see the package comment.
type Certificate struct {
	Claim
	Norms []float64 // > 0, one per paint
	Faces []Face
	Steps []Step
}

// Claim says what cannot be reached: no mix of the paints comes within the
// tolerance (CIEDE2000) of the target.
type Claim struct {
	Paints    []film.Paint
	Surface   film.Surface
	Light     string // D65, D50 or A
	Target    colour.Lab
	Tolerance float64
}

// Action is what a step does.
type Action int

const (
	Move Action = iota
	MakeCut
	Split
	Empty
)

// Row names a kind of condition that holds in a cell.
type Row int

const (
	MostR  Row = iota // internal reflectance at most
	LeastR            // at least
	MostS             // scattering against the norm at most
	LeastS
	CutRow
)

// Step is one line of a proof. Limit is the row moved, or the first cell of a
// split (MostR or MostS).
type Step struct {
	Action Action
	Limit  Row
	Band   int
	Value  float64
	Terms  []Term // of Move and Empty
	Cut    *Cut
}

// Term is a row times a multiplier >= 0. Index is the band or the cut.
type Term struct {
	Row   Row
	Index int
	Times float64
}

// Cut is a face whose reflectances are bounded by planes.
type Cut struct {
	Face   int
	Planes [colour.Bands]Plane
}

// Plane bounds the reflectance of one band by a line in q hinged at the low or
// the high limit of q: over R (where the weight of the face is negative) the
// chord, under R (positive) the tangent at internal reflectance Touch.
type Plane struct {
	High  bool
	Touch float64
}
