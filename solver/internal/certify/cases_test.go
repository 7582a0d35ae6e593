package certify

import (
	"context"
	"math/rand/v2"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/reach"
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

// subject is about some tubes and targets, each within a tolerance.
func subject(t testing.TB, tubes []catalog.Tube, targets []colour.Lab, tolerance float64) *Subject {
	t.Helper()
	s := &Subject{Targets: targets, Surface: film.Dry, Light: colour.D65()}
	for i := range tubes {
		s.Paints = append(s.Paints, tubes[i].Paint)
	}
	m, err := gamut.NewMixer(s.Paints, gamut.Options{Surface: s.Surface, Light: s.Light})
	if err != nil {
		t.Fatal(err)
	}
	s.PaintsPerMix = m.PaintsPerMix()
	none := make([]int, len(tubes))
	s.Stakes = &choice.Stakes{Oracle: reach.NewOracle(m, targets), Tubes: len(tubes), Prices: none, Flaws: none}
	for range targets {
		s.Tolerance, s.Area = append(s.Tolerance, tolerance), append(s.Area, 1)
	}
	return s
}

func builtin(t testing.TB) []catalog.Tube {
	t.Helper()
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	return all.Tubes()
}

// grown draws n failing sets of least to most built-in tubes, grown as Choose
// grows them: a target that some of the tubes reach and a small palette does
// not is taken, and the palette is given every tube that does not bring the
// target within reach. The margins are what they come to.
func grown(t testing.TB, seed uint64, n, least, most int) (out []outOfReach) {
	t.Helper()
	all, rng := builtin(t), rand.New(rand.NewPCG(seed, uint64(most)))
	for len(out) < n {
		var tubes []catalog.Tube
		for _, i := range rng.Perm(len(all))[:min(len(all), least+2+rng.IntN(most-least+most/2))] {
			tubes = append(tubes, all[i])
		}
		target := colour.Lab{L: 20 + 65*rng.Float64(), A: 50*rng.Float64() - 25, B: 65*rng.Float64() - 25}
		tolerance := float64(2 + rng.IntN(2))
		from := set.Of(len(tubes), rng.Perm(len(tubes))[:3+rng.IntN(2)]...)
		if c, ok := growOne(t, subject(t, tubes, []colour.Lab{target}, tolerance), from); ok && c.tubes >= least && c.tubes <= most {
			out = append(out, c)
		}
	}
	return out
}

func growOne(t testing.TB, s *Subject, from set.Set) (c outOfReach, ok bool) {
	k, tolerance := s.Blank().Known[0], s.Tolerance[0]
	all := set.Full(s.Tubes)
	if !k.Reaches(all, tolerance, gamut.Search) {
		return c, false
	}
	cut, ok, err := k.Grow(context.Background(), from, all, tolerance)
	if err != nil {
		t.Fatal(err)
	}
	if !ok {
		return c, false
	}
	near := s.Oracle.Closest(0, cut.Set, gamut.Verdict)
	c = outOfReach{
		tubes: cut.Set.Len(), paints: s.paints(cut.Set), target: s.Targets[0], tolerance: tolerance,
		margin: near.DE - tolerance, near: near.Lab,
	}
	return c, c.margin > 0
}
