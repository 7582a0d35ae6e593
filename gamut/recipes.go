package gamut

import (
	"cmp"
	"slices"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/search"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// Recipes lists up to most (0: 5) recipes in whole parts of at most maxTotal
// together (0: 20) for one target, fewest paints first, the nearer first among
// equals. They come from the nearest mixes of one paint, of two and so on up to
// PaintsPerMix, and from the nearest that do without each paint of the best, so
// that a painter who is short of one sees what else would do. A recipe is left
// out when some of its paints alone do as well within a quarter of a unit, when
// it is 3 units behind another of no more paints, or 6 behind the best; of more
// than most, the nearest stay.
func (m *Mixer) Recipes(target colour.Lab, palette set.Set, maxTotal, most int) []Recipe {
	if most <= 0 {
		most = 5
	}
	var found []Recipe
	offer := func(mix Mix) {
		if len(mix.Paints) > 0 {
			found = append(found, m.Recipe(target, mix, maxTotal))
		}
	}
	for size := 1; size < m.PaintsPerMix(); size++ {
		offer(Mix(m.search.ClosestOf(target, palette, size, search.Search)))
	}
	best := m.Closest(target, palette, Search)
	offer(best)
	for _, p := range best.Paints {
		without := palette.Clone()
		without.Remove(p)
		offer(m.Closest(target, without, Search))
	}
	found = keepUseful(found)
	if len(found) > most {
		slices.SortStableFunc(found, func(a, b Recipe) int { return portable.Compare(a.DE, b.DE, portable.Fine) })
		found = found[:most]
	}
	slices.SortStableFunc(found, func(a, b Recipe) int {
		return cmp.Or(len(a.Paints)-len(b.Paints), portable.Compare(a.DE, b.DE, portable.Fine), slices.Compare(a.Paints, b.Paints))
	})
	return found
}

// Recipes this far behind another, in CIEDE2000, are not worth showing.
const (
	behindSimpler = 3
	behindBest    = 6
)

// keepUseful drops repeats, recipes that a part of their own paints does as
// well, and those far behind.
func keepUseful(found []Recipe) (kept []Recipe) {
	for i, r := range found {
		useful := true
		for j, other := range found {
			switch {
			case r.DE > other.DE+behindBest, r.DE > other.DE+behindSimpler && len(other.Paints) <= len(r.Paints):
				useful = false
			case i == j || !within(other.Paints, r.Paints):
			case len(other.Paints) < len(r.Paints):
				useful = useful && r.DE < other.DE-worthAPaint
			default: // the same paints
				useful = useful && cmp.Or(portable.Compare(r.DE, other.DE, portable.Fine), i-j) < 0
			}
		}
		if useful {
			kept = append(kept, r)
		}
	}
	return kept
}

// within reports whether every paint of a is in b.
func within(a, b []int) bool {
	for _, p := range a {
		if !slices.Contains(b, p) {
			return false
		}
	}
	return true
}

// Step is one paint in the order of mixing.
type Step struct {
	Paint  int
	Amount float64 // as given
	Pull   float64 // CIEDE2000 by which the colour moves when the pile gets a twentieth more of this paint
}

// pullPart is the addition whose effect Pull measures.
const pullPart = 1.0 / 20

// MixingOrder is the order in which to put a pile together: the larger and
// weaker paints first, the one that moves the colour most last, little by
// little (common practice, no source). How strongly a paint moves this pile is
// taken from the film model: see Step.Pull.
func (m *Mixer) MixingOrder(paints []int, amounts []float64) []Step {
	total := 0.0
	for _, a := range amounts {
		total += a
	}
	before := m.Evaluate(paints, amounts)
	more := slices.Clone(amounts)
	steps := make([]Step, len(paints))
	for i, p := range paints {
		more[i] += float64(total * pullPart)
		steps[i] = Step{p, amounts[i], colour.DE2000(m.Evaluate(paints, more), before)}
		more[i] = amounts[i]
	}
	slices.SortStableFunc(steps, func(a, b Step) int {
		return cmp.Or(portable.Compare(a.Pull, b.Pull, portable.Fine), portable.Compare(b.Amount, a.Amount, portable.Fine), a.Paint-b.Paint)
	})
	return steps
}

// strengthDE is the difference from white that TintingStrength looks for.
const strengthDE = 10

// TintingStrength is how many volumes of white one volume of the paint turns to
// a tint that differs from that white by 10 units of CIEDE2000; 0 when even
// a thousandth of white hides it. It is this program's own measure, for ranking:
// standards compare two batches of one pigment by the K/S of a tint (ASTM
// D4838, from memory) and do not rank different hues.
func (m *Mixer) TintingStrength(paint, white int) float64 {
	alone := m.Evaluate([]int{white}, []float64{1})
	differs := func(n float64) float64 {
		return colour.DE2000(m.Evaluate([]int{paint, white}, []float64{1, n}), alone) - strengthDE
	}
	lo, hi := portable.Log(1e-3), portable.Log(1e6)
	if differs(portable.Exp(lo)) < 0 {
		return 0
	}
	for range 60 {
		if mid := (lo + hi) / 2; differs(portable.Exp(mid)) >= 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return portable.Exp(lo)
}

// Tint is a pile let down with white.
type Tint struct {
	White float64 // volumes of white to one volume of the pile
	Lab   colour.Lab
}

// TintLadder is the pile alone and in 1, 2, 4, ... volumes of white, as many
// tints as steps: the undertone of a pile shows in its tints.
func (m *Mixer) TintLadder(paints []int, amounts []float64, white, steps int) []Tint {
	total := 0.0
	for _, a := range amounts {
		total += a
	}
	list := append(slices.Clone(paints), white)
	all := append(slices.Clone(amounts), 0)
	ladder := []Tint{{0, m.Evaluate(paints, amounts)}}
	for n := 1.0; len(ladder) <= steps; n *= 2 {
		all[len(all)-1] = n * total
		ladder = append(ladder, Tint{n, m.Evaluate(list, all)})
	}
	return ladder
}
