package solver

import (
	"context"
	"math"
	"slices"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/doubt"
	"fewtubes/solver/internal/lessons"
)

// Answer is a verified result. Palettes of the same size are ranked by the
// problem's preference.
type Answer struct {
	Limits     Limits // under which it was given
	Status     Status
	Minimum    Minimum
	Palettes   []Palette // best first; never empty
	Capped     bool      // more palettes of this size exist than are listed
	Tied       int       // in the usual order: palettes of as few drawbacks, among which the rest decided
	TiedCapped bool      // there are more of them, not looked at
	Needs      []Need    // the cuts behind the minimum, sorted by target then tubes

	// Where fewest to buy were asked for: how many, Minimum being that of palettes
	// that hold no more; nil while that is not settled. NeedsToBuy are the cuts
	// behind it: no palette of any size with fewer to buy meets them all.
	ToBuy      *Minimum
	NeedsToBuy []Need

	Unreachable []Miss // beyond every allowed tube together; outside the minimum
	Missed      []Miss // missed by the best palette because of the limits

	// Where limits force misses: tubes of the best palette that bring no target
	// within reach, and the smallest palette that misses as little area, if it is
	// smaller.
	Superfluous []Superfluous
	Smaller     *Palette

	Conflict []Limit // a minimal set of limits that cannot be kept together, in the order of their words
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
	Tubes   int    `json:"tubes"`
	AtLeast int    `json:"at_least"` // no palette has fewer tubes; equal to Tubes unless interrupted
	Proof   string `json:"proof"`    // Searched, by hand Counted, or Interrupted
}

const (
	Counted     = "counted"     // every recipe of a hand was counted out
	Searched    = "search"      // every cut is a numerical verdict of a global search
	InDraws     = "draws"       // it holds in the plausible boxes tried, as Sure says
	Interrupted = "interrupted" // the choice was cut short: Tubes is the best so far
)

// Palette is one set of tubes and what it does for each target, in the order of
// Problem.Targets.
type Palette struct {
	Tubes        []string // ids, in catalogue order
	Buy          []string // those of them that are not owned, where fewest to buy were asked for
	Price        int      // hundredths of a currency unit; owned tubes cost nothing
	WorstDE      float64  // over the targets that all allowed tubes together reach; over all where these reach none
	MeanDE       float64  // over the same
	WorstOfAllDE float64  // over every target
	Targets      []Outcome

	glance doubt.Glance // where it was compared with others by that
}

// Outcome is the nearest mix of a palette to a target.
type Outcome struct {
	Target  string
	Lab     colour.Lab
	Mix     colour.Lab
	DE      float64
	Reached bool
	Shares  []Share // ids in catalogue order, sum of fractions 1
	Parts   []Part  // the same mix in small whole parts; by hand its very proportions
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
	Proof  string   // Searched, by hand Counted, or Certified

	Unsettled string // why Certify found no proof; empty otherwise
	Boxes     int    // with InDraws: plausible boxes in which it holds, at least
	Spared    int    // plausible boxes, of those tried, in which at least it does not hold (Spared)
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

// Superfluous is a tube of a palette without which all that the palette reaches is
// still reached, within the same limits. It is there since it brings nearer what
// the limits put out of reach.
type Superfluous struct {
	Tube   string        `json:"tube"`
	Brings []Gain        `json:"brings"` // most first
	Tubes  int           `json:"tubes"`  // of the palette without it
	Price  catalog.Cents `json:"price"`  // of that
}

// Gain is a target that comes nearer, from one difference to another.
type Gain struct {
	Target string            `json:"target"`
	From   colour.Hundredths `json:"from"`
	To     colour.Hundredths `json:"to"`
}

// palettes mixes every target from every palette. When the context ends, palettes
// not mixed by then are left out, but for the first so many.
func (s *Session) palettes(ctx context.Context, c *choice.Core, sets []set.Set, always int, r *cover.Rules, unreachable []int) []Palette {
	targets := s.problem.Targets
	mixed := make([][]Outcome, len(sets))
	for i := range sets {
		mixed[i] = make([]Outcome, len(targets))
	}
	done := make([]int, len(targets))
	parallel.Each(len(targets), func(t int) {
		for i, held := range sets {
			if i >= always && ctx.Err() != nil {
				break
			}
			mixed[i][t] = s.outcome(c, t, held)
			done[t]++
		}
	})
	sets = sets[:slices.Min(done)]
	out := make([]Palette, len(sets))
	for i, held := range sets {
		out[i] = Palette{Tubes: s.index.ids(held), Targets: mixed[i]}
		for _, tube := range held.Members() {
			out[i].Price += r.Weights[tube]
		}
		out[i].measure(unreachable)
	}
	return out
}

// measure works out the worst and mean differences.
func (p *Palette) measure(unreachable []int) {
	p.WorstDE, p.WorstOfAllDE = 0, 0
	for t := range p.Targets {
		p.WorstOfAllDE = max(p.WorstOfAllDE, p.Targets[t].DE)
	}
	sum, targets := 0.0, lessons.Judged(len(p.Targets), unreachable)
	for _, t := range targets {
		p.WorstDE = max(p.WorstDE, p.Targets[t].DE)
		sum += p.Targets[t].DE
	}
	p.MeanDE = sum / float64(max(len(targets), 1))
}

// outcome is the nearest mix of a palette to a target, and its recipe.
func (s *Session) outcome(c *choice.Core, t int, palette set.Set) Outcome {
	target := &s.problem.Targets[t]
	mix := c.Shown(t, palette)
	if math.IsInf(mix.DE, 1) {
		return Outcome{Target: target.Name, Lab: target.Lab, Mix: mix.Lab, DE: mix.DE}
	}
	if s.hand != nil {
		return s.outcomeByHand(t, mix)
	}
	recipe := s.recipe(t, mix)
	mix = s.nearer(t, mix, &recipe)
	out := Outcome{Target: target.Name, Lab: target.Lab, Mix: mix.Lab, DE: mix.DE, Reached: mix.DE <= target.Tolerance, PartsDE: recipe.DE}
	for i, p := range mix.Paints {
		out.Shares = append(out.Shares, Share{s.index.id(p), mix.Shares[i]})
	}
	for i, p := range recipe.Paints {
		out.Parts = append(out.Parts, Part{s.index.id(p), recipe.Parts[i]})
	}
	return out
}

// nearer is a mix, or one no farther than a recipe for it.
func (s *Session) nearer(t int, mix gamut.Mix, r *gamut.Recipe) gamut.Mix {
	parts := make([]float64, len(r.Parts))
	for i, n := range r.Parts {
		parts[i] = float64(n)
	}
	return s.mixer.Nearer(s.problem.Targets[t].Lab, mix, r.Paints, parts)
}

// recipe divides a mix into parts; palettes that share paints share the work.
func (s *Session) recipe(t int, mix gamut.Mix) gamut.Recipe {
	if s.recipes[t] == nil {
		s.recipes[t] = s.mixer.RecipeBook(s.problem.Targets[t].Lab, s.problem.MaxPartsTotal)
	}
	return s.recipes[t].Recipe(mix)
}
