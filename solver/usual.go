package solver

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"fewtubes/gamut"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/recipe"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/doubt"
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
	glance    doubt.Glance
	plain     int     // colours it mixes plainly (package recipe), most first
	doubtful  int     // convenience mixtures, and tubes whose paint is estimated
	worst     float64 // difference, as the eye tells them apart
	price     int
	name      string
}

func (a *ties) compare(b *ties) int {
	return cmp.Or(
		cmp.Compare(a.drawbacks, b.drawbacks),
		cmp.Compare(a.late, b.late),
		cmp.Compare(b.part(4), a.part(4)),
		cmp.Compare(b.plain, a.plain),
		cmp.Compare(b.part(20), a.part(20)),
		cmp.Compare(a.doubtful, b.doubtful),
		cmp.Compare(a.worst, b.worst),
		cmp.Compare(a.price, b.price),
		cmp.Compare(a.name, b.name),
	)
}

// part tells in which of so many parts, from 0, the share of the boxes lies in which the
// palette holds.
func (t *ties) part(of int) int {
	if t.glance.Boxes == 0 {
		return 0
	}
	return min(t.glance.Holds*of/t.glance.Boxes, of-1)
}

// usually are the palettes of a decision in the usual order, at most as many as are
// listed, and how many with as few drawbacks as the first were compared, capped where
// there are more; as they stand, where the context ends.
func (s *Session) usually(ctx context.Context, c *choice.Core, d *choice.Decision) (tied int, capped bool, listed []ties) {
	all := make([]ties, len(d.Palettes))
	for i, palette := range d.Palettes {
		all[i].palette = palette
	}
	if len(all) == 1 {
		return 1, false, all
	}
	held := s.shown(ctx, c, d.Palettes)
	flaws := cover.NewSum(s.choice.Flaws)
	var among []int // of those compared
	for i, palette := range d.Palettes {
		t := &all[i]
		t.drawbacks, t.price, t.name = flaws.Of(palette), d.Rules.Weight(palette), strings.Join(s.index.ids(palette), " ")
		if t.drawbacks == flaws.Of(d.Palettes[0]) {
			if len(among) < compared(d.Size) {
				among = append(among, i)
			} else {
				t.late, capped = 1, true
			}
		}
		for _, tube := range palette.Members() {
			t.doubtful += classed(&s.problem.Tubes[tube], "convenience", "estimated")
		}
		for _, k := range lessons.Judged(len(s.problem.Targets), d.Unreachable) {
			t.worst = max(t.worst, choice.AsGood(held[i].Mixes[k].DE))
		}
	}
	looked := make([]*doubt.Held, len(among))
	for k, i := range among {
		looked[k] = held[i]
	}
	glances, err := s.boxes().Glances(ctx, looked)
	for k, i := range among {
		if err == nil {
			all[i].glance, all[i].plain = glances[k], s.plain(ctx, all[i].palette)
		}
	}
	if ctx.Err() != nil {
		for i, palette := range d.Palettes {
			all[i] = ties{palette: palette}
		}
		return 0, false, all
	}
	slices.SortFunc(all, func(a, b ties) int { return a.compare(&b) })
	listed = all
	if most := s.problem.MostPalettes; most > 0 {
		listed = all[:min(len(all), most)]
	}
	return len(among), capped || d.Capped && len(among) == len(all), listed
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

// shown are palettes with their mixes as they are shown; some are missing when the
// context ends.
func (s *Session) shown(ctx context.Context, c *choice.Core, palettes []set.Set) []*doubt.Held {
	held := make([]*doubt.Held, len(palettes))
	for i, palette := range palettes {
		held[i] = &doubt.Held{Tubes: palette, Mixes: make([]gamut.Mix, len(s.problem.Targets))}
	}
	parallel.Each(len(s.problem.Targets), func(t int) {
		for i, palette := range palettes {
			if ctx.Err() != nil {
				return
			}
			held[i].Mixes[t] = c.Shown(t, palette)
		}
	})
	for _, h := range held {
		for t := range h.Mixes {
			if len(h.Mixes[t].Paints) > 0 && h.Mixes[t].DE <= s.problem.Targets[t].Tolerance {
				h.Judge = append(h.Judge, t)
			}
		}
	}
	return held
}
