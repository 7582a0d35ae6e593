package sample

import (
	"context"
	"slices"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/solver"
)

// Clusters stand for the masses of a picture, and a palette chosen for them may miss much
// of what lies between and beyond. So a palette is chosen, and where it covers too little
// of a picture, the colours that tell of what it misses take the place of clusters.

const (
	covered   = 0.97 // of what all tubes reach of each picture
	besideOne = 3    // one target in so many may be for what would be missed
	atATime   = 2
)

// covering finds the targets: so many clusters, and colours that the palettes chosen for
// them would miss.
func covering(ctx context.Context, s *scene.Scene, sources []Source, points []point, o *Options) error {
	s.Targets = targets(ctx, points, o.Targets, nil)
	if o.Stock == nil || ctx.Err() != nil {
		return ctx.Err()
	}
	var curves []*values.Curve
	for _, p := range s.Photos {
		curves = append(curves, p.Values)
	}
	b, err := Brush(ctx, sources, curves, UsualBrush)
	if err != nil {
		return err
	}
	var besides []Left
	for most := o.Targets / besideOne; len(besides) < most; {
		missed, err := b.missedBy(ctx, s, o.Stock, min(atATime, most-len(besides)))
		if err != nil || len(missed) == 0 {
			return err
		}
		besides = append(besides, missed...)
		s.Targets = targets(ctx, points, o.Targets-len(besides), besides)
	}
	return ctx.Err()
}

// missedBy are colours that the palette chosen for a scene misses and all tubes together
// reach; none where it covers the pictures.
func (b *Brushed) missedBy(ctx context.Context, s *scene.Scene, stock *catalog.Catalogue, most int) ([]Left, error) {
	named := *s
	named.Targets = slices.Clone(s.Targets)
	name(named.Targets)
	p := named.Problem(stock)
	session, err := solver.NewSession(p)
	if err != nil {
		return nil, err
	}
	answer, err := session.ChooseWhole(ctx, p.Limits, p.Prefer, nil)
	if err != nil {
		return nil, err
	}
	off, err := session.Nearest(ctx, answer.Palettes[0].Tubes, b.Colours(), s.Tolerance)
	if err != nil {
		return nil, err
	}
	var ids []string
	for _, t := range p.Tubes {
		ids = append(ids, t.ID)
	}
	all, err := session.Nearest(ctx, ids, b.Colours(), s.Tolerance)
	if err != nil {
		return nil, err
	}
	in, could, beyond := make([]bool, len(off)), make([]bool, len(off)), make([]float64, len(off))
	for i := range off {
		in[i], could[i] = off[i].DE <= s.Tolerance, all[i].DE <= s.Tolerance
		if could[i] {
			beyond[i] = off[i].DE - s.Tolerance
		}
	}
	ceiling := b.Parts(could)
	for k, part := range b.Parts(in) {
		if part < covered*ceiling[k] {
			return b.Leaves(beyond, most), nil
		}
	}
	return nil, nil
}

// targets are those of so many clusters and the colours besides, which take from the
// clusters what is nearer to them.
func targets(ctx context.Context, points []point, n int, besides []Left) (out []scene.Target) {
	groups := cluster(ctx, points, n)
	if ctx.Err() != nil {
		return nil
	}
	own := make([]group, len(besides))
	for i := range groups {
		kept := group{plane: groups[i].plane}
		for _, m := range groups[i].members {
			if k := nearestOf(besides, &points[m], groups[i].mean); k >= 0 {
				own[k].add(points, m)
			} else {
				kept.add(points, m)
			}
		}
		if len(kept.members) > 0 {
			out = append(out, target(points, &kept))
		}
	}
	for k, l := range besides {
		t := scene.Target{Lab: l.Lab, Colour: scene.Spell(l.Lab), Area: 0.1}
		if l.plane >= 0 {
			t.Plane = scene.Planes[l.plane]
		}
		if len(own[k].members) > 0 {
			t.Area = target(points, &own[k]).Area
		}
		out = append(out, t)
	}
	return out
}

// nearestOf is the colour besides that a point is nearest to, in its plane; -1 where the
// mean of its cluster is nearer.
func nearestOf(besides []Left, p *point, mean [3]float64) (best int) {
	best, least := -1, distance2(p.at, mean)
	for k, l := range besides {
		if d := distance2(p.at, even(l.Lab)); l.plane == p.plane && d < least {
			best, least = k, d
		}
	}
	return best
}
