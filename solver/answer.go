package solver

import (
	"fewtubes/gamut/colour"
	"fewtubes/solver/internal/choice"
)

// Answer is a verified result. Palettes of the same size are ranked by the
// problem's preference.
type Answer struct {
	Status      Status
	Minimum     Minimum
	Palettes    []Palette // best first; never empty
	Capped      bool      // more palettes of this size exist than are listed
	Needs       []Need    // the cuts behind the minimum, sorted by target then tubes
	Unreachable []Miss    // beyond every allowed tube together; outside the minimum
	Missed      []Miss    // missed by the best palette because of the limits

	// Where limits force misses: tubes of the best palette that bring no target
	// within reach, and the smallest palette that misses as little area, if it is
	// smaller.
	Superfluous []Superfluous
	Smaller     *Palette

	Conflict []string // a minimal set of limits that cannot be kept together, sorted, in words
	Stats    Stats

	behind *choice.Core // what was known when it was given
}

// Status says whether every target is reached by the best palette.
type Status string

const (
	AllReached Status = "all-reached"
	SomeMissed Status = "some-missed"
)

// Minimum is the size of the smallest palette and how that was established.
type Minimum struct {
	Tubes   int
	AtLeast int    // no palette has fewer tubes; equal to Tubes unless interrupted
	Proof   string // Searched or Interrupted
}

const (
	Searched    = "search"      // every cut is a numerical verdict of a global search
	Interrupted = "interrupted" // the choice was cut short: Tubes is the best so far
)

// Palette is one set of tubes and what it does for each target, in the order of
// Problem.Targets.
type Palette struct {
	Tubes        []string // ids, in catalogue order
	Price        int      // hundredths of a currency unit; owned tubes cost nothing
	WorstDE      float64  // over the targets that all allowed tubes together reach; over all where these reach none
	MeanDE       float64  // over the same
	WorstOfAllDE float64  // over every target
	Targets      []Outcome
}

// Outcome is the nearest mix of a palette to a target.
type Outcome struct {
	Target  string
	Lab     colour.Lab
	Mix     colour.Lab
	DE      float64
	Reached bool
	Shares  []Share // ids in catalogue order, sum of fractions 1
	Parts   []Part  // the same mix in small whole parts
	PartsDE float64
}

// Share is a volume fraction of a mix.
type Share struct {
	ID       string
	Fraction float64
}

// Part is a whole number of parts by volume.
type Part struct {
	ID    string
	Parts int
}

// Need says that a target cannot be reached without one of these tubes.
type Need struct {
	Target string
	OneOf  []string // ids in catalogue order
	BestDE float64  // the nearest that all other allowed tubes come; +Inf if there is none
	Proof  string   // Searched or Certified

	Unsettled string // why Certify found no proof; empty otherwise
}

// Miss is a target out of reach.
type Miss struct {
	Target string
	Beyond bool // not even all allowed tubes together reach it
	BestDE float64
	Words  string // too dark, not enough chroma, ... and by how much
	Helper string // id of the single tube that would bring it nearest; empty if none helps
	HelpDE float64
	Proof  string // that nothing asked about comes nearer than the tolerance; empty: Searched

	Unsettled string // why Certify found no proof; empty otherwise
}

// Stats are counts, not times, so that answers stay the same from run to run.
type Stats struct {
	Rounds, Cuts, Searches int
}
