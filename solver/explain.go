package solver

import (
	"context"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/solver/internal/lessons"
)

// Reason is why one tube of a palette is there.
type Reason struct {
	Tube    string
	Targets []Loss // what the palette would no longer reach without it
}

// Loss is a target that a palette reaches only with a certain tube.
type Loss struct {
	Target string
	BestDE float64 // the nearest without the tube; +Inf if no other is left
}

// Why lists for each tube of a palette, in catalogue order, the targets that
// need it: reached with it and missed without. It gives up with the context's
// error.
func (s *Session) Why(ctx context.Context, tubes []string) ([]Reason, error) {
	palette, err := s.index.find("palette", tubes)
	if err != nil {
		return nil, err
	}
	var out []Reason
	for k, lost := range lessons.Why(ctx, s.stakes(), palette) {
		out = append(out, Reason{s.index.id(palette.Members()[k]), s.losses(lost)})
	}
	return out, ctx.Err()
}

func (s *Session) losses(lost []lessons.Loss) (out []Loss) {
	for _, l := range lost {
		out = append(out, Loss{s.problem.Targets[l.Target].Name, l.DE})
	}
	return out
}

// shareNoTube reports whether no tube answers two of the needs.
func shareNoTube(needs []Need) bool {
	seen := map[string]bool{}
	for _, n := range needs {
		for _, id := range n.OneOf {
			if seen[id] {
				return false
			}
			seen[id] = true
		}
	}
	return true
}

// DisjointNeeds are needs without a tube in common, as many as the minimum of
// the answer: a proof that can be followed by eye, since each asks for a tube of
// its own. It is nil where none were found among the cuts known when the
// answer, one of Choose, was given; then Answer.Needs hold the proof. Where those
// share no tube they are the very same, so that Certify marks both. It gives up with
// the context's error.
func (s *Session) DisjointNeeds(ctx context.Context, a *Answer) ([]Need, error) {
	if len(a.Needs) == a.Minimum.Tubes && shareNoTube(a.Needs) {
		return a.Needs, nil
	}
	r, err := s.index.rules(&a.Limits)
	if err != nil || a.behind == nil {
		return nil, err
	}
	var targets []int
	for t, o := range a.Palettes[0].Targets {
		if o.Reached {
			targets = append(targets, t)
		}
	}
	found, err := a.behind.DisjointNeeds(ctx, r, targets, a.Minimum.Tubes)
	if err != nil || found == nil {
		return nil, err
	}
	return s.needs(found), nil
}

// Swap is a tube of a palette and what could stand in for it.
type Swap struct {
	Tube     string    `json:"tube"`
	StandIns []StandIn `json:"stand_ins"` // least worst difference first; none: it has no substitute
}

// StandIn is a tube with which, in place of another, everything reached before
// is still reached.
type StandIn struct {
	Tube    string            `json:"tube"`
	WorstDE colour.Hundredths `json:"worst_de"` // of the palette with the stand-in, over the same targets
	MeanDE  colour.Hundredths `json:"mean_de"`
	Price   catalog.Cents     `json:"price"` // of the palette with the stand-in

	Holds int `json:"holds,omitempty"` // of so many plausible boxes, where they were counted (ShareSwaps)
	Draws int `json:"draws,omitempty"`
}

// Swaps finds for each tube of a palette every tube that could stand in for it
// under the limits, with all that the palette reaches still reached.
func (s *Session) Swaps(ctx context.Context, limits Limits, tubes []string) ([]Swap, error) {
	r, err := s.index.rules(&limits)
	if err != nil {
		return nil, err
	}
	palette, err := s.index.find("palette", tubes)
	if err != nil {
		return nil, err
	}
	found, err := lessons.StandIns(ctx, s.stakes(), r, palette)
	if err != nil {
		return nil, err
	}
	out := make([]Swap, len(found))
	for k, i := range palette.Members() {
		out[k] = Swap{s.index.id(i), []StandIn{}}
		for _, x := range found[k] {
			out[k].StandIns = append(out[k].StandIns, StandIn{Tube: s.index.id(x.Tube), WorstDE: colour.Hundredths(x.WorstDE), MeanDE: colour.Hundredths(x.MeanDE), Price: catalog.Cents(x.Price)})
		}
	}
	return out, nil
}
