package main

import (
	"context"
	"fmt"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
	"fewtubes/solver"
)

// smallest is the size of the smallest palette by the solver, without recipes
// and lists beyond one palette.
func smallest(p solver.Problem) (size int, reachable []colour.Lab, err error) {
	p.MostPalettes = 1
	a, err := solver.Choose(context.Background(), p, nil)
	if err != nil {
		return 0, nil, err
	}
	beyond := map[string]bool{}
	for _, m := range a.Unreachable {
		beyond[m.Target] = true
	}
	for _, t := range p.Targets {
		if !beyond[t.Name] {
			reachable = append(reachable, t.Lab)
		}
	}
	return a.Minimum.Tubes, reachable, nil
}

func mixerOf(p *solver.Problem) (*gamut.Mixer, error) {
	var paints []film.Paint
	for i := range p.Tubes {
		paints = append(paints, p.Tubes[i].Paint)
	}
	return gamut.NewMixer(paints, gamut.Options{Surface: p.Surface, Light: p.Light})
}

// besideEnumeration tries every set of tubes, the smallest first.
func besideEnumeration() (row, error) {
	r := row{name: "every set, 14 tubes x 8 targets"}
	p, err := scene(14, 8)
	if err != nil {
		return r, err
	}
	m, err := mixerOf(&p)
	if err != nil {
		return r, err
	}
	var ours int
	var targets []colour.Lab
	r.ours = spent(func() { ours, targets, err = smallest(p) })
	if err != nil {
		return r, err
	}
	theirs := 0
	r.theirs = spent(func() {
		for size := 1; theirs == 0 && size <= len(p.Tubes); size++ {
			sets(len(p.Tubes), size, func(s set.Set) bool {
				if !reachesAll(m, s, targets) {
					return true
				}
				theirs = size
				return false
			})
		}
	})
	r.sizes(ours, theirs)
	return r, nil
}

func (r *row) sizes(ours, theirs int) {
	r.answers = fmt.Sprintf("smallest palette %d and %d tubes", ours, theirs)
	r.lost = ours > theirs
}

func reachesAll(m *gamut.Mixer, s set.Set, targets []colour.Lab) bool {
	for _, t := range targets {
		if _, ok := m.Within(t, s, 3, gamut.Search); !ok {
			return false
		}
	}
	return true
}

// sets visits the sets of size out of n until visit returns false.
func sets(n, size int, visit func(set.Set) bool) {
	at := make([]int, size)
	for i := range at {
		at[i] = i
	}
	for visit(set.Of(n, at...)) {
		i := size - 1
		for i >= 0 && at[i] == n-size+i {
			i--
		}
		if i < 0 {
			return
		}
		at[i]++
		for k := i + 1; k < size; k++ {
			at[k] = at[k-1] + 1
		}
	}
}
