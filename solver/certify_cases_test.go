package solver

import (
	"context"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
)

// outOfReach is a colour that some real tubes do not come within a tolerance of,
// as a search found out.
type outOfReach struct {
	tubes     int
	paints    []film.Paint
	target    colour.Lab
	tolerance float64
	margin    float64 // of the nearest mix found beyond the tolerance
	near      colour.Lab
}

// grown draws n failing sets of least to most built-in tubes, grown as Choose
// grows them: a target that some of the tubes reach and a small palette does
// not is taken, and the palette is given every tube that does not bring the
// target within reach. The margins are what they come to.
func grown(t testing.TB, seed uint64, n, least, most int) (out []outOfReach) {
	t.Helper()
	p := sceneProblem(t, 1, 3)
	all, rng := p.Tubes, rand.New(rand.NewPCG(seed, uint64(most)))
	for len(out) < n {
		p.Tubes = nil
		for _, i := range rng.Perm(len(all))[:min(len(all), least+2+rng.IntN(most-least+most/2))] {
			p.Tubes = append(p.Tubes, all[i])
		}
		p.Targets[0].Lab = colour.Lab{L: 20 + 65*rng.Float64(), A: 50*rng.Float64() - 25, B: 65*rng.Float64() - 25}
		p.Targets[0].Tolerance = float64(2 + rng.IntN(2))
		from := set.Of(len(p.Tubes), rng.Perm(len(p.Tubes))[:3+rng.IntN(2)]...)
		s, err := NewSession(p)
		if err != nil {
			t.Fatal(err)
		}
		if c, ok := s.growOne(t, from); ok && c.tubes >= least && c.tubes <= most {
			out = append(out, c)
		}
	}
	return out
}

func (s *Session) growOne(t testing.TB, from set.Set) (c outOfReach, ok bool) {
	k, target := s.choice.Blank().Known[0], &s.problem.Targets[0]
	all := set.Full(len(s.index.tubes))
	if !k.Reaches(all, target.Tolerance, gamut.Search) {
		return c, false
	}
	cut, ok, err := k.Grow(context.Background(), from, all, target.Tolerance)
	if err != nil {
		t.Fatal(err)
	}
	if !ok {
		return c, false
	}
	near := s.mixer.Closest(target.Lab, cut.Set, gamut.Verdict)
	c = outOfReach{
		tubes: cut.Set.Len(), paints: s.paints(cut.Set), target: target.Lab, tolerance: target.Tolerance,
		margin: near.DE - target.Tolerance, near: near.Lab,
	}
	return c, c.margin > 0
}
