// Package letdown finds recipes in parts for mixes that hold a trace of a
// strong tinter.
//
// Twenty parts cannot hold half a part. Painters let the strong tinter down
// first: one part of it in ten, or five, of a weak paint makes a pile that is measured in
// whole parts; a trace of a trace is let down twice.
package letdown

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
	"fewtubes/solver"
)

// Pile is an ingredient: a tube, or a tube let down in another.
type Pile struct {
	Tube  string // id
	In    string // id of the paint it is let down in; empty: as it comes from the tube
	Ratio int    // parts of In to one of Tube each time it is let down; 0: as it comes
	Twice bool   // let down, and the result let down again
}

// ratios are tried in turn: one in ten is the usual, one in five serves where
// the base has no room for ten.
var ratios = [...]int{10, 5}

// Recipe is a mix in whole parts of piles.
type Recipe struct {
	Piles []Pile // in the order of mixing, see gamut.MixingOrder
	Parts []int
	Lab   colour.Lab
	DE    float64 // CIEDE2000 to the target
}

// MayLose is the CIEDE2000 whole parts may lose against free amounts before a
// strong tinter is let down: about the least that is seen side by side.
const MayLose = 1.0

const (
	// few is the share below which a tube is let down: about a part of twenty.
	few = 1.0 / 15
	// trace is the share a pile must come to; less is let down twice.
	trace = 1.0 / 25
	// whiteEnough is the share of a white from which tubes are let down in it, so
	// that one pile serves many mixes; else the largest share is tried first.
	whiteEnough = 0.15
)

// Find looks for the recipe of a mix, at most maxTotal parts (0: 20) of its
// tubes, those of a small share let down, the piles in the order of mixing. The
// bases are tried in turn until parts lose less than enough; else the nearest
// stands. tube finds a tube's paint and whether it is a white.
func Find(target colour.Lab, shares []solver.Share, maxTotal int, opt gamut.Options, tube func(id string) (paint *film.Paint, white bool)) (Recipe, error) {
	if len(shares) == 0 {
		return Recipe{}, errors.New("letdown: the mix holds no tube")
	}
	paints, amounts := make([]film.Paint, len(shares)), make([]float64, len(shares))
	for i, s := range shares {
		paint, _ := tube(s.ID)
		paints[i], amounts[i] = *paint, s.Fraction
	}
	opt.PaintsPerMix = len(shares)
	m, err := gamut.NewMixer(paints, opt)
	if err != nil {
		return Recipe{}, err
	}
	all := set.Full(len(shares)).Members()
	free := colour.DE2000(m.Evaluate(all, amounts), target)
	var best Recipe
	for _, ratio := range ratios {
		for _, base := range bases(shares, tube) {
			r, err := findIn(base, ratio, target, shares, maxTotal, opt, tube)
			if err != nil {
				return Recipe{}, err
			}
			if best.Piles == nil || portable.Compare(r.DE, best.DE, portable.Fine) < 0 {
				best = r
			}
			if best.DE <= free+MayLose {
				return best, nil
			}
		}
	}
	return best, nil
}

// findIn lets tubes down in one base.
func findIn(base solver.Share, ratio int, target colour.Lab, shares []solver.Share, maxTotal int, opt gamut.Options, tube func(string) (*film.Paint, bool)) (Recipe, error) {
	piles := make([]Pile, len(shares))
	paints := make([]film.Paint, len(shares))
	for i, s := range shares {
		piles[i] = pileOf(s, base, ratio)
		paints[i] = mixed(piles[i], tube)
	}
	m, err := gamut.NewMixer(paints, opt)
	if err != nil {
		return Recipe{}, err
	}
	found := m.Recipe(target, gamut.Mix{Paints: set.Full(len(paints)).Members()}, maxTotal)
	r := Recipe{Lab: found.Lab, DE: found.DE}
	volumes := make([]float64, len(found.Parts))
	for i, n := range found.Parts {
		volumes[i] = float64(n)
	}
	for _, step := range m.MixingOrder(found.Paints, volumes) {
		r.Piles = append(r.Piles, piles[step.Paint])
		r.Parts = append(r.Parts, int(step.Amount))
	}
	return r, nil
}

// bases are the shares tubes may be let down in: whites of some size first,
// then the largest share, then the others.
func bases(shares []solver.Share, tube func(string) (*film.Paint, bool)) []solver.Share {
	rank := func(s solver.Share) int {
		if _, white := tube(s.ID); white && s.Fraction >= whiteEnough {
			return 0
		}
		return 1
	}
	out := slices.Clone(shares)
	slices.SortStableFunc(out, func(a, b solver.Share) int {
		return cmp.Or(rank(a)-rank(b), portable.Compare(b.Fraction, a.Fraction, portable.Fine))
	})
	return out
}

// pileOf lets a tube down where its share is small and the base has room for it.
func pileOf(s, base solver.Share, ratio int) Pile {
	weak := float64(ratio + 1)
	once, twice := s.Fraction*weak, s.Fraction*weak*weak
	switch {
	case s.ID == base.ID || s.Fraction >= few || once > base.Fraction:
		return Pile{Tube: s.ID}
	case once >= trace || twice > base.Fraction:
		return Pile{Tube: s.ID, In: base.ID, Ratio: ratio}
	}
	return Pile{Tube: s.ID, In: base.ID, Ratio: ratio, Twice: true}
}

// strong is the part of a pile that is its tube.
func (p Pile) strong() float64 {
	switch strong := 1 / float64(p.Ratio+1); {
	case p.In == "":
		return 1
	case p.Twice:
		return strong * strong
	default:
		return strong
	}
}

// mixed is the paint of a pile, per volume.
func mixed(p Pile, tube func(string) (*film.Paint, bool)) film.Paint {
	paint, _ := tube(p.Tube)
	if p.In == "" {
		return *paint
	}
	base, _ := tube(p.In)
	strong := p.strong()
	var out film.Paint
	film.Mix(&out, []film.Paint{*paint, *base}, []float64{strong, 1 - strong})
	return out
}

// Words are the recipe with the largest part first: "12 titanium white +
// 2 phthalo blue (1:10 in titanium white)".
func (r Recipe) Words(name func(id string) string) string {
	order := make([]int, len(r.Parts))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(r.Parts[b], r.Parts[a]) })
	words := make([]string, len(order))
	for k, i := range order {
		p := r.Piles[i]
		words[k] = fmt.Sprintf("%d %s", r.Parts[i], name(p.Tube))
		switch {
		case p.Twice:
			words[k] += fmt.Sprintf(" (twice 1:%d in %s)", p.Ratio, name(p.In))
		case p.In != "":
			words[k] += fmt.Sprintf(" (1:%d in %s)", p.Ratio, name(p.In))
		}
	}
	return strings.Join(words, " + ")
}

// Shares are the volume fractions of the tubes in the mix, by id.
func (r Recipe) Shares() []solver.Share {
	volumes, total := map[string]float64{}, 0.0
	for i, p := range r.Piles {
		strong, parts := p.strong(), float64(r.Parts[i])
		volumes[p.Tube] += float64(strong * parts)
		if p.In != "" {
			volumes[p.In] += float64((1 - strong) * parts)
		}
		total += parts
	}
	var out []solver.Share
	for _, id := range slices.Sorted(maps.Keys(volumes)) {
		out = append(out, solver.Share{ID: id, Fraction: volumes[id] / total})
	}
	return out
}

// LetsDown reports whether any pile is let down.
func (r Recipe) LetsDown() bool {
	return slices.ContainsFunc(r.Piles, func(p Pile) bool { return p.In != "" })
}
