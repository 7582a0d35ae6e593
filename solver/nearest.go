package solver

import (
	"cmp"
	"context"
	"math"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
)

// Nearest is how near tubes come to a colour.
type Nearest struct {
	Lab colour.Lab // of the mix
	DE  float64
}

// Nearest tells how near the tubes of a palette come to many colours, against the white
// of the problem's light, mixed freely by quick searches; where they come within the
// tolerance, some mix that does. The error is as of Check.
func (s *Session) Nearest(ctx context.Context, palette []string, colours []colour.Lab, tolerance float64) ([]Nearest, error) {
	held, err := s.index.find("palette", palette)
	if err != nil {
		return nil, err
	}
	if held.Len() == 0 {
		return nil, &InputError{"palette", "there is no tube in it", "name at least one"}
	}
	out := make([]Nearest, len(colours))
	alike := neighbours(colours)
	parallel.Each(len(alike), func(i int) {
		if ctx.Err() == nil {
			s.nearest(held, colours, alike[i], tolerance, out)
		}
	})
	return out, ctx.Err()
}

// nearest asks for colours that lie close together: what one is mixed of often serves the
// next.
func (s *Session) nearest(held set.Set, colours []colour.Lab, ids []int, tolerance float64, out []Nearest) {
	var mixed []colour.Lab
	for _, i := range ids {
		at := slices.IndexFunc(mixed, func(mix colour.Lab) bool { return colour.DE2000(mix, colours[i]) <= tolerance })
		if at >= 0 {
			out[i] = Nearest{mixed[at], colour.DE2000(mixed[at], colours[i])}
			continue
		}
		mix, within := s.mixer.Within(colours[i], held, tolerance, gamut.Quick)
		if out[i] = (Nearest{mix.Lab, mix.DE}); within {
			mixed = append(mixed, mix.Lab)
		}
	}
}

// neighbours are the colours in groups that lie within a cube of CIELAB.
func neighbours(colours []colour.Lab) (groups [][]int) {
	const side = 6.0
	key := func(i int) [3]int {
		c := colours[i]
		return [3]int{int(math.Floor(c.L / side)), int(math.Floor(c.A / side)), int(math.Floor(c.B / side))}
	}
	ids := make([]int, len(colours))
	for i := range ids {
		ids[i] = i
	}
	slices.SortFunc(ids, func(i, j int) int {
		a, b := key(i), key(j)
		return cmp.Or(slices.Compare(a[:], b[:]), cmp.Compare(i, j))
	})
	for from := 0; from < len(ids); {
		to := from + 1
		for to < len(ids) && key(ids[to]) == key(ids[from]) {
			to++
		}
		groups, from = append(groups, ids[from:to]), to
	}
	return groups
}
