package solver

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"fewtubes/gamut/parallel"
	"fewtubes/gamut/recipe"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/lessons"
)

// mostCompared is among how many palettes the later keys of the usual order are
// decided: hundreds of one size are common, and to mix each takes time.
const mostCompared = 64

// compared is among how many palettes of a size they are: to count the plain recipes
// of large ones takes long, so of those fewer are.
func compared(size int) int {
	const most, least, sets = 12, 8, 2000 // tubes; palettes; sets of up to four tubes in all
	if size > most {
		return 1
	}
	each := size + size*(size-1)/2 + size*(size-1)*(size-2)/6 + size*(size-1)*(size-2)*(size-3)/24
	return min(max(sets/max(each, 1), least), mostCompared)
}

// ties is what one palette is compared by, in the usual order.
type ties struct {
	palette   set.Set
	drawbacks int // fewest first, exactly: the chooser has weighed them
	late      int // 1: one too many to be compared; it stands behind
	// The share of plausible boxes in which the palette holds goes here, by quarters.
	plain    int     // colours it mixes plainly (package recipe), most first
	doubtful int     // convenience mixtures, and tubes whose paint is estimated
	worst    float64 // difference, as the eye tells them apart
	price    int
	name     string
}

func (a *ties) compare(b *ties) int {
	return cmp.Or(
		cmp.Compare(a.drawbacks, b.drawbacks),
		cmp.Compare(a.late, b.late),
		cmp.Compare(b.plain, a.plain),
		cmp.Compare(a.doubtful, b.doubtful),
		cmp.Compare(a.worst, b.worst),
		cmp.Compare(a.price, b.price),
		cmp.Compare(a.name, b.name),
	)
}

// usually are the palettes of a decision in the usual order, at most as many as are
// listed, and how many with as few drawbacks as the first were compared, capped where
// there are more; as they stand, where the context ends.
func (s *Session) usually(ctx context.Context, c *choice.Core, d *choice.Decision) (tied int, capped bool, palettes []set.Set) {
	if len(d.Palettes) == 1 {
		return 1, false, d.Palettes
	}
	far := s.differences(ctx, c, d)
	flaws := cover.NewSum(s.choice.Flaws)
	all := make([]ties, len(d.Palettes))
	for i, palette := range d.Palettes {
		t := ties{palette: palette, drawbacks: flaws.Of(palette), price: d.Rules.Weight(palette), name: strings.Join(s.index.ids(palette), " ")}
		if t.drawbacks == flaws.Of(d.Palettes[0]) {
			if tied < compared(d.Size) {
				t.plain = s.plain(ctx, palette)
				tied++
			} else {
				t.late, capped = 1, true
			}
		}
		if ctx.Err() != nil {
			return 0, false, d.Palettes
		}
		for _, tube := range palette.Members() {
			t.doubtful += classed(&s.problem.Tubes[tube], "convenience", "estimated")
		}
		for k := range far {
			t.worst = max(t.worst, choice.AsGood(far[k][i]))
		}
		all[i] = t
	}
	slices.SortFunc(all, func(a, b ties) int { return a.compare(&b) })
	for _, t := range all {
		if most := s.problem.MostPalettes; most == 0 || len(palettes) < most {
			palettes = append(palettes, t.palette)
		}
	}
	return tied, capped || d.Capped && tied == len(all), palettes
}

// plain counts the colours that a palette mixes plainly; 0 when the context ends.
func (s *Session) plain(ctx context.Context, palette set.Set) int {
	if s.plainly == nil {
		var goals []recipe.Target
		for _, t := range s.problem.Targets {
			goals = append(goals, recipe.Target{Lab: t.Lab, Tolerance: t.Tolerance})
		}
		paints, sight := s.problem.paints()
		table, err := recipe.NewTable(paints, sight, recipe.Limits{}, goals)
		if err != nil {
			panic("solver: " + err.Error()) // the mixer has accepted the same
		}
		s.plainly = table
	}
	n, _ := s.plainly.PlainRecipes(ctx, palette)
	return n
}

// differences are those of every palette of a decision, per target that palettes are
// judged by; some are missing when the context ends.
func (s *Session) differences(ctx context.Context, c *choice.Core, d *choice.Decision) [][]float64 {
	judged := lessons.Judged(len(s.problem.Targets), d.Unreachable)
	far := make([][]float64, len(judged))
	parallel.Each(len(judged), func(i int) {
		for _, palette := range d.Palettes {
			if ctx.Err() != nil {
				return
			}
			far[i] = append(far[i], c.Shown(judged[i], palette).DE)
		}
	})
	return far
}
