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
	"slices"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
	"fewtubes/solver"
)

// ratios are tried in turn: one in ten is the usual, one in five serves where
// the base has no room for ten.
var ratios = [...]int{10, 5}

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
// stands. tube finds a tube.
func Find(target colour.Lab, shares []solver.Share, maxTotal int, opt gamut.Options, tube func(id string) *catalog.Tube) (hand.Recipe, error) {
	if len(shares) == 0 {
		return hand.Recipe{}, errors.New("letdown: the mix holds no tube")
	}
	paints, amounts := make([]film.Paint, len(shares)), make([]float64, len(shares))
	for i, s := range shares {
		paints[i], amounts[i] = tube(s.ID).Paint, s.Fraction
	}
	opt.PaintsPerMix = len(shares)
	m, err := gamut.NewMixer(paints, opt)
	if err != nil {
		return hand.Recipe{}, err
	}
	all := set.Full(len(shares)).Members()
	free := colour.DE2000(m.Evaluate(all, amounts), target)
	var best hand.Recipe
	for _, ratio := range ratios {
		for _, base := range bases(shares, tube) {
			r, err := findIn(base, ratio, target, shares, maxTotal, opt, tube)
			if err != nil {
				return hand.Recipe{}, err
			}
			if best.Parts == nil || portable.Compare(r.DE, best.DE, portable.Fine) < 0 {
				best = r
			}
			if best.DE <= free+MayLose {
				return best, nil
			}
		}
	}
	return best, nil
}

// Nearer is Find's recipe where it lets a tube down and its difference is less than
// another's; else nil.
func Nearer(than float64, target colour.Lab, shares []solver.Share, maxTotal int, opt gamut.Options, tube func(id string) *catalog.Tube) *hand.Recipe {
	r, err := Find(target, shares, maxTotal, opt, tube)
	if err != nil || !r.LetsDown() || !(r.DE < than) {
		return nil
	}
	return &r
}

// findIn lets tubes down in one base.
func findIn(base solver.Share, ratio int, target colour.Lab, shares []solver.Share, maxTotal int, opt gamut.Options, tube func(id string) *catalog.Tube) (hand.Recipe, error) {
	piles := make([]hand.Part, len(shares))
	paints := make([]film.Paint, len(shares))
	for i, s := range shares {
		piles[i] = pileOf(s, base, ratio)
		paints[i] = piles[i].Paint(tube)
	}
	m, err := gamut.NewMixer(paints, opt)
	if err != nil {
		return hand.Recipe{}, err
	}
	found := m.Recipe(target, gamut.Mix{Paints: set.Full(len(paints)).Members()}, maxTotal)
	r := hand.Recipe{Lab: found.Lab, DE: found.DE}
	volumes := make([]float64, len(found.Parts))
	for i, n := range found.Parts {
		volumes[i] = float64(n)
	}
	for _, step := range m.MixingOrder(found.Paints, volumes) {
		part := piles[step.Paint]
		part.Quarters = 4 * int(step.Amount)
		r.Parts = append(r.Parts, part)
	}
	return r, nil
}

// bases are the shares tubes may be let down in: whites of some size first,
// then the largest share, then the others.
func bases(shares []solver.Share, tube func(id string) *catalog.Tube) []solver.Share {
	rank := func(s solver.Share) int {
		if tube(s.ID).IsWhite() && s.Fraction >= whiteEnough {
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
func pileOf(s, base solver.Share, ratio int) hand.Part {
	weak := float64(ratio + 1)
	once, twice := s.Fraction*weak, s.Fraction*weak*weak
	switch {
	case s.ID == base.ID || s.Fraction >= few || once > base.Fraction:
		return hand.Part{Tube: s.ID}
	case once >= trace || twice > base.Fraction:
		return hand.Part{Tube: s.ID, In: base.ID, Ratio: ratio, Times: 1}
	}
	return hand.Part{Tube: s.ID, In: base.ID, Ratio: ratio, Times: 2}
}
