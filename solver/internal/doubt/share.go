package doubt

import (
	"context"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// Held is a palette and its mixes as the tubes stand.
type Held struct {
	Tubes set.Set
	Mixes []gamut.Mix // per target; of no paint: there is none
	Judge []int       // targets that count
}

// Share is in how many boxes a palette holds, by target and whole.
type Share struct {
	Whole   int
	Targets []int // per target; 0 where it is not judged
}

// asked is a palette made ready for many boxes.
type asked struct {
	*Held
	near  []gamut.Near // per target
	order []int        // those judged, the likeliest to be missed first
	among set.Set      // its tubes as lists number them
}

func (b *Boxes) asked(held *Held, l *lists) asked {
	a := asked{held, make([]gamut.Near, len(b.Targets)), slices.Clone(held.Judge), l.among(held.Tubes)}
	for _, t := range held.Judge {
		a.near[t] = b.Mixer.Near(&held.Mixes[t])
	}
	slices.SortStableFunc(a.order, func(s, t int) int {
		return portable.Compare(held.Mixes[t].DE/b.Tolerance[t], held.Mixes[s].DE/b.Tolerance[s], portable.Fine)
	})
	return a
}

// holds reports whether a target is reached in a box.
func (b *Boxes) holds(m *gamut.Mixer, l *gamut.Table, a *asked, t int) bool {
	if l == nil {
		return m.Remixes(b.Targets[t], a.Tubes, a.near[t], b.Tolerance[t], gamut.Search)
	}
	return m.Again(b.Targets[t], a.near[t], b.Tolerance[t]) || l.Reaches(t, a.among, b.Tolerance[t]) != nil
}

// Share counts the boxes from..to in which a palette holds.
func (b *Boxes) Share(ctx context.Context, held *Held, from, to int) (Share, error) {
	l := b.lists(held.Tubes)
	a := b.asked(held, l)
	reached := make([][]bool, to-from+1)
	err := b.Each(ctx, held.Tubes, from, to, func(box int, m *gamut.Mixer, drawn []film.Paint) {
		in, here := make([]bool, len(b.Targets)), l.in(drawn)
		for _, t := range a.order {
			in[t] = b.holds(m, here, &a, t)
		}
		reached[box-from] = in
	})
	out := Share{Targets: make([]int, len(b.Targets))}
	if err != nil {
		return out, err
	}
	for _, in := range reached {
		whole := 1
		for _, t := range held.Judge {
			if in[t] {
				out.Targets[t]++
			} else {
				whole = 0
			}
		}
		out.Whole += whole
	}
	return out, nil
}

// Shares counts for each of some palettes the boxes from..to in which it holds whole.
func (b *Boxes) Shares(ctx context.Context, palettes []*Held, from, to int) ([]int, error) {
	if len(palettes) == 0 {
		return nil, ctx.Err()
	}
	tubes := set.New(len(b.Tubes))
	for _, p := range palettes {
		tubes = set.Union(tubes, p.Tubes)
	}
	l := b.lists(tubes)
	ready := make([]asked, len(palettes))
	for i, p := range palettes {
		ready[i] = b.asked(p, l)
	}
	whole := make([][]bool, to-from+1)
	err := b.Each(ctx, tubes, from, to, func(box int, m *gamut.Mixer, drawn []film.Paint) {
		in, here := make([]bool, len(ready)), l.in(drawn)
		for i := range ready {
			a := &ready[i]
			in[i] = !slices.ContainsFunc(a.order, func(t int) bool { return !b.holds(m, here, a, t) })
		}
		whole[box-from] = in
	})
	out := make([]int, len(palettes))
	for _, in := range whole {
		for i := range in {
			if in[i] {
				out[i]++
			}
		}
	}
	return out, err
}

// Glance is in how many of the first so many boxes a palette holds; the zero Glance:
// none was tried.
type Glance struct{ Holds, Boxes int }

// glances is in how many boxes each of some palettes is tried to be compared.
func glances(palettes int) int {
	const compared, boxes = 24, 100 // so many palettes in so many boxes each
	return max(10, boxes*compared/max(compared, palettes))
}

// Glances compare palettes in the first boxes, fewer where palettes are many.
func (b *Boxes) Glances(ctx context.Context, palettes []*Held) ([]Glance, error) {
	boxes := glances(len(palettes))
	holds, err := b.Shares(ctx, palettes, 1, boxes)
	out := make([]Glance, len(palettes))
	for i, k := range holds {
		out[i] = Glance{k, boxes}
	}
	return out, err
}

// Surest is the palette that holds in most of boxes 1..n, and in how many: of the one
// that holds in most of the first few, and of the first. Of equals the one listed first.
// Glances that there are already are not made again.
func (b *Boxes) Surest(ctx context.Context, palettes []*Held, seen []Glance, first, n int) (at, holds int, err error) {
	few := seen[0].Boxes
	if few == 0 || few > n {
		few = min(n, glances(len(palettes)))
	}
	var open []*Held
	for i, p := range palettes {
		if seen[i].Boxes != few {
			open = append(open, p)
		}
	}
	fresh, err := b.Shares(ctx, open, 1, few)
	if err != nil {
		return 0, first, err
	}
	best, most := 0, -1
	for i := range palettes {
		k := seen[i].Holds
		if seen[i].Boxes != few {
			k, fresh = fresh[0], fresh[1:]
		}
		if k > most {
			best, most = i, k
		}
	}
	if best == 0 {
		return 0, first, nil
	}
	all, err := b.Shares(ctx, palettes[best:best+1], 1, n)
	if err != nil || all[0] <= first {
		return 0, first, err
	}
	return best, all[0], nil
}
