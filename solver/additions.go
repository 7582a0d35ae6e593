package solver

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
	Sets   []Addition // fewest toxic or fugitive tubes first, then the cheapest, then the least mean
	Capped bool       // there are more than are listed
}

// Addition is a set of tubes added to a palette.
type Addition struct {
	Tubes   []string
	Reached []string // targets that come within reach by it
	MeanDE  float64  // with it, over the targets that all tubes together reach
	Price   int      // of its tubes; owned ones cost nothing
}

const (
	mostAdded     = 3   // tubes
	mostAdditions = 24  // listed of one size
	mostSifted    = 100 // found of one size before the cheapest are asked for
)

// Additions finds for one, two and three tubes of the catalogue the sets that,
// added to a palette, bring most targets within reach: none of that size brings
// more. Two or three are left out where they do no more than fewer. Where no
// single tube brings a target within reach, the first entry holds the tube with
// which the mean difference is least. It is empty when there is no tube to add.
func (s *Session) Additions(ctx context.Context, palette, own []string) ([]Additions, error) {
	held, err := s.index.find("palette", palette)
	if err != nil {
		return nil, err
	}
	r, err := s.index.rules(&Limits{Own: own, Keep: palette})
	if err != nil {
		return nil, err
	}
	if set.Minus(r.Allowed, held).Len() == 0 {
		return nil, nil
	}
	st, err := s.standing(ctx, held, r)
	if err != nil {
		return nil, err
	}
	w := &choice.MostWanted{Weights: s.burden(r, held), List: mostAdditions, Sift: mostSifted}
	var out []Additions
	for n := 1; n <= mostAdded; n++ {
		w.Size = held.Len() + n
		sets, reached, capped, err := st.core.MostReach(ctx, r, st.missed, w)
		if err != nil {
			return nil, err
		}
		if len(sets) > 0 {
			w.MoreThan = reached
			out = append(out, Additions{n, s.additions(ctx, st, r, sets, cover.NewSum(w.Weights)), capped})
		}
	}
	if len(out) == 0 || out[0].Tubes > 1 {
		out = slices.Insert(out, 0, Additions{1, []Addition{s.nearestAddition(ctx, st, r)}, false})
	}
	return out, ctx.Err()
}

// burden weighs the tubes not in a palette: toxic and fugitive ones beyond any
// price, then by price.
func (s *Session) burden(r *cover.Rules, palette set.Set) []int {
	flaws, all := drawbacks(s.index.tubes), 1
	for _, price := range r.Weights {
		all += price
	}
	out := make([]int, len(flaws))
	for i := range out {
		if !palette.Has(i) {
			out[i] = flaws[i]*all + r.Weights[i]
		}
	}
	return out
}

// additions are what palettes, in order of a sum, bring beyond the one they hold.
func (s *Session) additions(ctx context.Context, st *standing, r *cover.Rules, palettes []set.Set, sum *cover.Sum) []Addition {
	out := make([]Addition, len(palettes))
	for i, p := range palettes {
		out[i] = s.addition(ctx, st, r, p)
	}
	for from := 0; from < len(out); { // equals by their mean
		to := from + 1
		for to < len(out) && sum.Of(palettes[to]) == sum.Of(palettes[from]) {
			to++
		}
		slices.SortStableFunc(out[from:to], func(a, b Addition) int { return portable.Compare(a.MeanDE, b.MeanDE, portable.Shown) })
		from = to
	}
	return out
}

// addition is what a palette brings beyond the one it holds.
func (s *Session) addition(ctx context.Context, st *standing, r *cover.Rules, palette set.Set) Addition {
	more := set.Minus(palette, st.palette)
	out := Addition{Tubes: s.index.ids(more), Reached: []string{}, Price: r.Weight(more)}
	far := st.with(ctx, s, palette)
	for _, t := range st.missed {
		if far[t] <= st.core.Tolerance[t] {
			out.Reached = append(out.Reached, s.problem.Targets[t].Name)
		}
	}
	out.MeanDE = st.mean(far)
	return out
}

// nearestAddition is the one tube with which the mean difference is least.
func (s *Session) nearestAddition(ctx context.Context, st *standing, r *cover.Rules) Addition {
	var all []Addition
	for _, i := range set.Minus(r.Allowed, st.palette).Members() {
		with := st.palette.Clone()
		with.Add(i)
		all = append(all, s.addition(ctx, st, r, with))
	}
	return slices.MinFunc(all, func(a, b Addition) int { return portable.Compare(a.MeanDE, b.MeanDE, portable.Shown) })
}
