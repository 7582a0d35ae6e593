package solver

import (
	"context"

	"fewtubes/gamut"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/doubt"
)

// UsualDraws is how many plausible boxes answers are tried in where nobody asks for
// another number.
const UsualDraws = 500

// Doubt is how sure a palette is: in how many plausible boxes, its tubes as they may
// be from other makers (catalog.Boxes), it still reaches what it reaches as they
// stand, each colour remixed freely.
type Doubt struct {
	Draws   int       `json:"draws"`
	Holds   int       `json:"palette_holds"` // boxes in which every target listed is reached
	Surest  []string  `json:"surest"`        // of the palettes listed: the one that holds in most
	Best    int       `json:"surest_holds"`  // the boxes in which that one does
	Targets []Holding `json:"targets"`       // those that the palette reaches; none where that was not asked
}

// Holding is a target and the boxes in which it is reached.
type Holding struct {
	Target string `json:"name"`
	Holds  int    `json:"holds"`
}

// Doubt tries palettes that answer the same targets, the one shown first, in
// plausible boxes 1..draws. It gives up with the context's error.
func (s *Session) Doubt(ctx context.Context, palettes []Palette, draws int) (*Doubt, error) {
	b, held := s.boxes(), s.held(&palettes[0])
	share, err := b.Share(ctx, held, 1, draws)
	if err != nil {
		return nil, err
	}
	d, err := s.doubt(ctx, b, palettes, share.Whole, draws)
	for _, t := range held.Judge {
		d.Targets = append(d.Targets, Holding{s.problem.Targets[t].Name, share.Targets[t]})
	}
	return d, err
}

// DoubtBriefly is Doubt without the targets, which takes less time.
func (s *Session) DoubtBriefly(ctx context.Context, palettes []Palette, draws int) (*Doubt, error) {
	b, from := s.boxes(), 1
	whole, seen := 0, palettes[0].glance
	if seen.Boxes <= draws {
		whole, from = seen.Holds, seen.Boxes+1
	}
	rest, err := b.Shares(ctx, []*doubt.Held{s.held(&palettes[0])}, from, draws)
	if err != nil {
		return nil, err
	}
	return s.doubt(ctx, b, palettes, whole+rest[0], draws)
}

// doubt is that without the targets, where it is known how often the palette shown holds.
func (s *Session) doubt(ctx context.Context, b *doubt.Boxes, palettes []Palette, whole, draws int) (*Doubt, error) {
	held, seen := make([]*doubt.Held, len(palettes)), make([]doubt.Glance, len(palettes))
	for i := range palettes {
		held[i], seen[i] = s.held(&palettes[i]), palettes[i].glance
	}
	at, best, err := b.Surest(ctx, held, seen, whole, draws)
	return &Doubt{Draws: draws, Holds: whole, Surest: palettes[at].Tubes, Best: best, Targets: []Holding{}}, err
}

// Share is the number of boxes 1..draws in which each of some palettes holds.
func (s *Session) Share(ctx context.Context, palettes []Palette, draws int) ([]int, error) {
	held := make([]*doubt.Held, len(palettes))
	for i := range palettes {
		held[i] = s.held(&palettes[i])
	}
	return s.boxes().Shares(ctx, held, 1, draws)
}

// boxes are the plausible boxes of the problem's tubes.
func (s *Session) boxes() *doubt.Boxes {
	b := &doubt.Boxes{Mixer: s.mixer, Tubes: s.index.tubes}
	for _, t := range s.problem.Targets {
		b.Targets, b.Tolerance = append(b.Targets, t.Lab), append(b.Tolerance, t.Tolerance)
	}
	return b
}

// held is a palette with its mixes by index; what it reaches is judged.
func (s *Session) held(p *Palette) *doubt.Held {
	tubes, _ := s.index.find("palette", p.Tubes)
	out := &doubt.Held{Tubes: tubes, Mixes: make([]gamut.Mix, len(p.Targets))}
	for t := range p.Targets {
		o := &p.Targets[t]
		mix := gamut.Mix{Lab: o.Mix, DE: o.DE}
		for _, share := range o.Shares {
			mix.Paints, mix.Shares = append(mix.Paints, s.index.place[share.ID]), append(mix.Shares, share.Fraction)
		}
		out.Mixes[t] = mix
		if o.Reached {
			out.Judge = append(out.Judge, t)
		}
	}
	return out
}

// Spared tells for needs of an answer in how many of boxes 1..draws at least the
// other allowed tubes reach the target after all, so that the need does not hold.
func (s *Session) Spared(ctx context.Context, limits Limits, needs []Need, draws int) ([]int, error) {
	r, err := s.index.rules(&limits)
	if err != nil {
		return nil, err
	}
	var failing []doubt.Failing
	for _, n := range needs {
		oneOf, err := s.index.find("need", n.OneOf)
		if err != nil {
			return nil, err
		}
		t := s.targetIndex(n.Target)
		f := doubt.Failing{Target: t, Tubes: set.Minus(r.Allowed, oneOf)}
		if f.Tubes.Len() > 0 {
			f.Near = s.alone(t, f.Tubes)
		}
		failing = append(failing, f)
	}
	return s.boxes().Spared(ctx, failing, draws)
}

// ShareSwaps fills in for the first few stand-ins of each tube of a palette in how many
// of boxes 1..draws they hold what the palette reaches.
func (s *Session) ShareSwaps(ctx context.Context, p *Palette, swaps []Swap, most, draws int) error {
	var held []*doubt.Held
	var into []*int
	judge := s.held(p).Judge
	for i := range swaps {
		for k := range swaps[i].StandIns[:min(most, len(swaps[i].StandIns))] {
			with, err := s.index.find("palette", p.Tubes)
			if err != nil {
				return err
			}
			in := &swaps[i].StandIns[k]
			with.Remove(s.index.place[swaps[i].Tube])
			with.Add(s.index.place[in.Tube])
			held, into = append(held, s.freely(with, judge)), append(into, &in.Holds)
			in.Draws = draws
		}
	}
	return s.share(ctx, held, into, draws)
}

// ShareAdditions fills in for the first few sets of each number of tubes in how many
// of boxes 1..draws the palette and they hold what they then reach.
func (s *Session) ShareAdditions(ctx context.Context, p *Palette, additions []Additions, most, draws int) error {
	var held []*doubt.Held
	var into []*int
	judge := s.held(p).Judge
	for i := range additions {
		for k := range additions[i].Sets[:min(most, len(additions[i].Sets))] {
			a := &additions[i].Sets[k]
			with, err := s.index.find("palette", append(a.Tubes[:len(a.Tubes):len(a.Tubes)], p.Tubes...))
			if err != nil {
				return err
			}
			also := judge[:len(judge):len(judge)]
			for _, name := range a.Reached {
				also = append(also, s.targetIndex(name))
			}
			held, into = append(held, s.freely(with, also)), append(into, &a.Holds)
			a.Draws = draws
		}
	}
	return s.share(ctx, held, into, draws)
}

func (s *Session) share(ctx context.Context, held []*doubt.Held, into []*int, draws int) error {
	if len(held) == 0 {
		return nil
	}
	whole, err := s.boxes().Shares(ctx, held, 1, draws)
	for i := range into {
		*into[i] = whole[i]
	}
	return err
}

// freely is a palette with its nearest mixes for what is judged.
func (s *Session) freely(palette set.Set, judge []int) *doubt.Held {
	out := &doubt.Held{Tubes: palette, Mixes: make([]gamut.Mix, len(s.problem.Targets)), Judge: judge}
	parallel.Each(len(judge), func(i int) { out.Mixes[judge[i]] = s.alone(judge[i], palette) })
	return out
}
