package solver

import (
	"cmp"
	"context"
	"fmt"
	"math"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/reach"
)

// Picture is a picture to choose for: its colours, many of them, with what each weighs.
type Picture struct {
	Colours   []colour.Lab // against the white of the problem's light
	Weights   []int        // >= 0: pixels, or strokes
	Tolerance float64      // CIEDE2000, > 0
	Share     float64      // 0..1, of the weight that the allowed tubes together reach, to be reached
	Alone     bool         // the problem's targets are not asked for
}

// PictureAnswer are the smallest palettes for a picture, and what they rest on.
type PictureAnswer struct {
	Weight  int // of the picture
	Ceiling int // of that, what all the allowed tubes together reach
	Needed  int // of that, what was to be reached
	Reached int // by the first palette

	Minimum  Minimum
	Palettes [][]string // ids in catalogue order, by the preference; none where the limits rule all out
	Capped   bool       // there are more
	Cells    []PictureCell
	Needs    []PictureNeed // that prove that fewer will not do, together with
	Named    []Need        // those of the problem's targets

	Palette Palette // the first, and what it does for the problem's targets
	Missed  []Miss
	Stats   Stats
}

// PictureCell is what becomes of a colour of the picture.
type PictureCell struct {
	Mix    colour.Lab // the nearest of the first palette
	DE     float64
	Within bool
	Beyond bool // all the allowed tubes together miss it
}

// PictureNeed says that without one of these tubes all of some colours are missed, by
// their place in Picture.Colours.
type PictureNeed struct {
	Colours []int
	OneOf   []string
}

// mostForPicture is how many palettes are listed.
const mostForPicture = 1

// ChoosePicture finds the smallest palettes that reach a share of a picture besides the
// problem's targets, mixed freely. By accuracy, or by what holds, they come in the usual
// order of drawbacks. Errors are as of Choose.
func (s *Session) ChoosePicture(ctx context.Context, limits Limits, prefer Preference, p *Picture) (*PictureAnswer, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	w, err := s.index.wish(&limits)
	if err != nil {
		return nil, err
	}
	if w.Order = prefer.order(s.problem.Tubes); w.Order.Weigh == nil {
		w.Order = Usual.order(s.problem.Tubes)
	}
	w.Most, w.New = mostForPicture, nil
	allowed := s.choice.Rules(w).Allowed
	if allowed.Len() == 0 {
		return nil, &InputError{"limits", "no tube is allowed", "allow one"}
	}
	out, area, err := s.area(ctx, p, allowed)
	if err != nil {
		return nil, err
	}
	stakes := *s.stakes()
	if p.Alone {
		stakes.Tolerance, stakes.Area = nil, nil
	}
	d, err := stakes.DecideArea(ctx, w, area)
	if err != nil {
		return nil, err
	}
	out.Stats = Stats{Rounds: d.Rounds, Cuts: d.Cuts}
	for _, l := range d.Behind {
		out.Needs = append(out.Needs, PictureNeed{l.Cells, s.index.ids(l.OneOf)})
	}
	out.Named = s.needs(d.Needs)
	if len(d.Palettes) == 0 {
		return out, nil
	}
	out.Minimum, out.Capped = Minimum{Tubes: d.Size, AtLeast: d.Size, Proof: Searched}, d.Capped
	for _, palette := range d.Palettes {
		if !d.Rules.Keeps(palette) {
			return nil, fmt.Errorf("solver: internal: the palette %v does not keep the limits", s.index.ids(palette))
		}
		out.Palettes = append(out.Palettes, s.index.ids(palette))
	}
	if err := s.recount(ctx, p, d.Palettes[0], out); err != nil {
		return nil, err
	}
	if d.Size == 0 {
		return out, nil
	}
	out.Palette, out.Missed, err = s.Check(ctx, out.Palettes[0], limits.Own)
	return out, err
}

func (p *Picture) check() error {
	switch {
	case len(p.Colours) == 0:
		return &InputError{"picture", "there is no colour in it", "take another"}
	case !(p.Share > 0) || p.Share > 1:
		return &InputError{"picture", fmt.Sprintf("a share of %v is no part of it", p.Share), "write a number above 0 and up to 1"}
	case !(p.Tolerance > 0) || math.IsInf(p.Tolerance, 0):
		return &InputError{"picture", fmt.Sprintf("a tolerance of %v is no distance", p.Tolerance), "write a number above 0"}
	}
	return nil
}

// area is the part of a picture that the allowed tubes together reach, as a demand.
func (s *Session) area(ctx context.Context, p *Picture, allowed set.Set) (*PictureAnswer, *choice.Area, error) {
	many := reach.NewMany(s.mixer, p.Colours, p.Tolerance)
	near, err := many.Near(ctx, allowed)
	if err != nil {
		return nil, nil, err
	}
	out := &PictureAnswer{Cells: make([]PictureCell, len(p.Colours)), Palettes: [][]string{}}
	var asked []reach.Asked
	for i := range near {
		if near[i].DE > p.Tolerance {
			asked = append(asked, reach.Asked{Target: i, Tubes: allowed})
		}
	}
	reached, err := many.Ensured(ctx, asked)
	if err != nil {
		return nil, nil, err
	}
	for i, a := range asked {
		out.Cells[a.Target].Beyond = !reached[i]
	}
	area := &choice.Area{Many: many, Weights: make([]int, len(p.Colours))}
	for i, w := range p.Weights {
		out.Weight += w
		if !out.Cells[i].Beyond {
			area.Weights[i] = w
			out.Ceiling += w
		}
	}
	out.Needed = int(math.Ceil(float64(p.Share*float64(out.Ceiling)) - 1e-9))
	area.Most = out.Ceiling - out.Needed
	return out, area, nil
}

// recount mixes every colour from a palette anew, with nothing of what was learnt while
// it was chosen.
func (s *Session) recount(ctx context.Context, p *Picture, palette set.Set, out *PictureAnswer) error {
	parallel.Each(len(p.Colours), func(i int) {
		if cell := &out.Cells[i]; ctx.Err() == nil && palette.Len() > 0 {
			mix := s.mixer.Closest(p.Colours[i], palette, gamut.Search)
			cell.Mix, cell.DE, cell.Within = mix.Lab, mix.DE, mix.DE <= p.Tolerance
		}
	})
	for i, w := range p.Weights {
		if out.Cells[i].Within {
			out.Reached += w
		}
	}
	if out.Reached < out.Needed && ctx.Err() == nil {
		return fmt.Errorf("solver: internal: the palette %v reaches %d of %d", s.index.ids(palette), out.Reached, out.Needed)
	}
	return cmp.Or(ctx.Err())
}
