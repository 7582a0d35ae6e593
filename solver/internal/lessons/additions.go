package lessons

import (
	"context"
	"slices"

	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
)

// Additions are the sets of so many tubes that, added to a palette, bring most
// targets within reach.
type Additions struct {
	Tubes  int
	Sets   []Addition // of least burden first, then of least mean
	Capped bool       // there are more than are listed
}

// Addition is a set of tubes added to a palette.
type Addition struct {
	Tubes   set.Set
	Reached []int   // targets that come within reach by it
	MeanDE  float64 // with it, over the targets that palettes are judged by
}

const (
	MostAdded  = 3   // tubes
	mostListed = 24  // of one size
	mostSifted = 100 // found of one size before the cheapest are asked for
)

// Add finds for one, two and three tubes the sets that, added to a palette which the
// rules keep, bring most targets within reach: none of that size brings more. Two
// or three are left out where they do no more than fewer. Where no single tube
// brings a target within reach, the first entry holds the tube with which the mean
// difference is least. It is empty when there is no tube to add.
func Add(ctx context.Context, s *choice.Stakes, r *cover.Rules, palette set.Set) ([]Additions, error) {
	if set.Minus(r.Allowed, palette).Len() == 0 {
		return nil, nil
	}
	st, err := Stand(ctx, s, palette, r.Allowed)
	if err != nil {
		return nil, err
	}
	w := &choice.MostWanted{Weights: burden(s, r, palette), List: mostListed, Sift: mostSifted}
	var out []Additions
	for n := 1; n <= MostAdded; n++ {
		w.Size = palette.Len() + n
		sets, reached, capped, err := st.core.MostReach(ctx, r, st.Missed, w)
		if err != nil {
			return nil, err
		}
		if len(sets) > 0 {
			w.MoreThan = reached
			out = append(out, Additions{n, st.additions(ctx, sets, cover.NewSum(w.Weights)), capped})
		}
	}
	if len(out) == 0 || out[0].Tubes > 1 {
		out = slices.Insert(out, 0, Additions{1, []Addition{st.nearestAddition(ctx, r)}, false})
	}
	return out, ctx.Err()
}

// burden weighs the tubes not in a palette: flaws beyond any price, then by price.
func burden(s *choice.Stakes, r *cover.Rules, palette set.Set) []int {
	all := 1
	for _, price := range r.Weights {
		all += price
	}
	out := make([]int, s.Tubes)
	for i := range out {
		if !palette.Has(i) {
			out[i] = s.Flaws[i]*all + r.Weights[i]
		}
	}
	return out
}

// additions are what palettes, in order of a sum, bring beyond the one they hold.
func (st *Standing) additions(ctx context.Context, palettes []set.Set, sum *cover.Sum) []Addition {
	out := make([]Addition, len(palettes))
	for i, p := range palettes {
		out[i] = st.addition(ctx, p)
	}
	for from := 0; from < len(out); { // equals by their mean
		to := from + 1
		for to < len(out) && sum.Of(palettes[to]) == sum.Of(palettes[from]) {
			to++
		}
		slices.SortStableFunc(out[from:to], nearerMean)
		from = to
	}
	return out
}

func nearerMean(a, b Addition) int { return portable.Compare(a.MeanDE, b.MeanDE, portable.Shown) }

// addition is what a palette brings beyond the one it holds.
func (st *Standing) addition(ctx context.Context, palette set.Set) Addition {
	out := Addition{Tubes: set.Minus(palette, st.Palette)}
	far := st.with(ctx, palette)
	for _, t := range st.Missed {
		if far[t] <= st.core.Tolerance[t] {
			out.Reached = append(out.Reached, t)
		}
	}
	out.MeanDE = st.mean(far)
	return out
}

// nearestAddition is the one tube with which the mean difference is least.
func (st *Standing) nearestAddition(ctx context.Context, r *cover.Rules) Addition {
	var all []Addition
	for _, i := range set.Minus(r.Allowed, st.Palette).Members() {
		with := st.Palette.Clone()
		with.Add(i)
		all = append(all, st.addition(ctx, with))
	}
	return slices.MinFunc(all, nearerMean)
}
