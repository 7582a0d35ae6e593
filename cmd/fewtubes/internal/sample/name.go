package sample

import (
	"fmt"
	"math"
	"slices"

	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// name gives every target its colour in words and its plane, and tells apart
// those that would be called the same.
func name(targets []scene.Target) {
	alike := map[string][]int{}
	for i := range targets {
		t := &targets[i]
		t.Name = colour.Name(t.Lab).String()
		if t.Plane != "" {
			t.Name += ", " + t.Plane
		}
		alike[t.Name] = append(alike[t.Name], i)
	}
	for _, ids := range alike { // each list is its own: their order does not matter
		switch len(ids) {
		case 1:
		case 2:
			a, b := &targets[ids[0]], &targets[ids[1]]
			wordA, wordB := apart(a.Lab, b.Lab)
			a.Name, b.Name = a.Name+", "+wordA, b.Name+", "+wordB
		default:
			number(targets, ids)
		}
	}
}

// apart says how two colours of one name differ most.
func apart(a, b colour.Lab) (wordA, wordB string) {
	p, q := a.LCh(), b.LCh()
	dL, dC := p.L-q.L, p.C-q.C
	dH := math.Remainder(p.H-q.H, 360) * math.Sqrt(p.C*q.C) * math.Pi / 180
	warmth := func(c colour.LCh) float64 { return c.C * portable.Cos((c.H-60)*math.Pi/180) }
	pair := func(more bool, yes, no string) (string, string) {
		if more {
			return yes, no
		}
		return no, yes
	}
	switch size := max(math.Abs(dL), math.Abs(dC), math.Abs(dH)); {
	case math.Abs(dL) == size:
		return pair(dL > 0, "lighter", "darker")
	case math.Abs(dC) == size:
		return pair(dC > 0, "stronger", "duller")
	default:
		return pair(warmth(p) > warmth(q), "warmer", "cooler")
	}
}

// number counts from the lightest.
func number(targets []scene.Target, ids []int) {
	slices.SortStableFunc(ids, func(i, j int) int { return portable.Compare(targets[j].Lab.L, targets[i].Lab.L, portable.Fine) })
	for k, i := range ids {
		word := fmt.Sprintf("%d of %d from the light", k+1, len(ids))
		switch k {
		case 0:
			word = "lightest"
		case len(ids) - 1:
			word = "darkest"
		}
		targets[i].Name += ", " + word
	}
}
