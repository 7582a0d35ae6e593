package sample

import (
	"cmp"
	"context"
	"math"
	"slices"

	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// Sample finds the targets of the pictures and puts them in a scene, with all
// it takes to find them again. Fewer colours than asked come back from a
// picture that has fewer, more only when there are more planes than that. It
// gives up with the context's error when that ends.
func Sample(ctx context.Context, sources []Source, o Options) (scene.Scene, error) {
	s := scene.Scene{Tolerance: scene.DefaultTolerance, Light: colour.D65().Name}
	views := make([]*view, len(sources))
	for i, src := range sources {
		if err := ctx.Err(); err != nil {
			return s, err
		}
		if err := src.Check(); err != nil {
			return s, err
		}
		views[i] = look(ctx, src, o)
		s.Photos = append(s.Photos, scene.Photo{Name: src.Name, File: src.File, Targets: o.Targets, Planes: src.planes(&o), Distances: src.Distances, Crop: src.Crop, Values: views[i].curve})
	}
	points := gather(ctx, views, box)
	if err := ctx.Err(); err != nil {
		return s, err
	}
	if err := covering(ctx, &s, sources, points, &o); err != nil {
		return s, err
	}
	order(s.Targets)
	name(s.Targets)
	for i := range s.Targets {
		if err := ctx.Err(); err != nil {
			return s, err
		}
		s.Targets[i].At = find(views, &s.Targets[i])
	}
	return s, s.Check()
}

func target(points []point, g *group) scene.Target {
	lab, area := core(points, g)
	lab = colour.Lab{L: tenth(lab.L), A: tenth(lab.A), B: tenth(lab.B)}
	t := scene.Target{
		Colour: scene.Spell(lab),
		Lab:    lab,
		Area:   max(tenth(100*area), 0.1),
	}
	if g.plane >= 0 {
		t.Plane = scene.Planes[g.plane]
	}
	return t
}

const (
	// coreShare is the part of a group's weight its colour is averaged over.
	coreShare = 0.8
	// clean is the chroma at which a colour counts four times as much as a grey.
	clean = 10.0
)

// core is the colour of a group and the area of all of it. The outskirts are
// left out and clean colours count for more than greyed ones: a mass is greyed
// by its blends with the neighbours and by the twigs within it, and a painter
// mixes its clean note.
func core(points []point, g *group) (mean colour.Lab, area float64) {
	members := slices.Clone(g.members)
	slices.SortStableFunc(members, func(i, j int) int {
		return portable.Compare(distance2(points[i].at, g.mean), distance2(points[j].at, g.mean), portable.Fine)
	})
	var inner, weight float64
	for _, i := range members {
		p := &points[i]
		area += p.area
		if weight > coreShare*g.weight {
			continue
		}
		weight += p.weight
		say := 1 + portable.Hypot(p.lab.A, p.lab.B)/clean
		say = float64(say * (say * p.area))
		inner += say
		mean.L += float64(say * p.lab.L)
		mean.A += float64(say * p.lab.A)
		mean.B += float64(say * p.lab.B)
	}
	return colour.Lab{L: mean.L / inner, A: mean.A / inner, B: mean.B / inner}, area
}

// order sorts by plane, farthest first as one paints, then by area.
func order(targets []scene.Target) {
	slices.SortStableFunc(targets, func(a, b scene.Target) int {
		return cmp.Or(
			cmp.Compare(slices.Index(scene.Planes, b.Plane), slices.Index(scene.Planes, a.Plane)),
			portable.Compare(b.Area, a.Area, portable.Fine),
			portable.Compare(a.Lab.L, b.Lab.L, portable.Fine),
		)
	})
}

// tenth rounds to one decimal and never to minus nothing.
func tenth(v float64) float64 { return math.Round(v*10)/10 + 0 }
