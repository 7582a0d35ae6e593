package solver

import (
	"context"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/solver/internal/lessons"
)

// Additions are the sets of so many tubes that, added to a palette, bring most
// targets within reach.
type Additions struct {
	Tubes  int        `json:"tubes"`
	Sets   []Addition `json:"sets"`   // fewest toxic, fading or brittle tubes first, then the cheapest, then the least mean
	Capped bool       `json:"capped"` // there are more than are listed
}

// Addition is a set of tubes added to a palette.
type Addition struct {
	Tubes   []string          `json:"tubes"`
	Reached []string          `json:"reached"` // targets that come within reach by it
	MeanDE  colour.Hundredths `json:"mean_de"` // with it, over the targets that all tubes together reach
	Price   catalog.Cents     `json:"price"`   // of its tubes; owned ones cost nothing

	Holds int `json:"holds,omitempty"` // of so many plausible boxes, where they were counted (ShareAdditions)
	Draws int `json:"draws,omitempty"`
}

// Additions finds for one, two and three tubes of the catalogue the sets that,
// added to a palette, bring most targets within reach: none of that size brings
// more. Two or three are left out where they do no more than fewer. Where no
// single tube brings a target within reach, the first entry holds the tube with
// which the mean difference is least. It is empty when there is no tube to add.
func (s *Session) Additions(ctx context.Context, palette, own []string) ([]Additions, error) {
	held, err := s.index.find("palette", palette)
	if err != nil {
		return nil, err
	}
	r, err := s.index.rules(&Limits{Own: own, Keep: palette})
	if err != nil {
		return nil, err
	}
	found, err := lessons.Add(ctx, s.stakes(), r, held)
	if found == nil {
		return nil, err
	}
	var out []Additions
	for _, a := range found {
		n := Additions{Tubes: a.Tubes, Capped: a.Capped}
		for _, x := range a.Sets {
			n.Sets = append(n.Sets, Addition{Tubes: s.index.ids(x.Tubes), Reached: s.names(x.Reached), MeanDE: colour.Hundredths(x.MeanDE), Price: catalog.Cents(r.Weight(x.Tubes))})
		}
		out = append(out, n)
	}
	return out, err
}

// AtHome are the largest sets of tubes of a palette that can stay at home together.
type AtHome struct {
	Sets   []Leaving `json:"sets"`   // the palette that is left is best in the first
	Capped bool      `json:"capped"` // there are more than are listed
}

// Leaving is a set of tubes left at home.
type Leaving struct {
	Tubes  []string          `json:"tubes"`
	MeanDE colour.Hundredths `json:"mean_de"` // without them, over the targets that all tubes together reach
}

// AtHome finds the largest sets of a palette's tubes without which everything it
// reaches is still reached. There are none where every tube is needed, or nothing
// is reached.
func (s *Session) AtHome(ctx context.Context, palette []string) (*AtHome, error) {
	held, err := s.index.find("palette", palette)
	if err != nil {
		return &AtHome{Sets: []Leaving{}}, err
	}
	sets, capped, err := lessons.AtHome(ctx, s.stakes(), held)
	out := &AtHome{Sets: []Leaving{}, Capped: capped}
	for _, l := range sets {
		out.Sets = append(out.Sets, Leaving{s.index.ids(l.Tubes), colour.Hundredths(l.MeanDE)})
	}
	return out, err
}

// Spare is the tube of a palette that could best stay at home.
type Spare struct {
	Tube   string
	Lost   []Loss  // targets no longer reached without it; none: it is not needed
	MeanDE float64 // without it, over the targets that all tubes together reach
}

// BestSpare is the tube whose absence costs least area, then least mean
// difference. It is nil for a palette of fewer than two tubes.
func (s *Session) BestSpare(ctx context.Context, tubes []string) (*Spare, error) {
	palette, err := s.index.find("palette", tubes)
	if err != nil {
		return nil, err
	}
	spare, err := lessons.BestSpare(ctx, s.stakes(), palette)
	if spare == nil {
		return nil, err
	}
	return &Spare{s.index.id(spare.Tube), s.losses(spare.Lost), spare.MeanDE}, err
}
