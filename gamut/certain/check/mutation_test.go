package check_test

import (
	"context"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/gamut/bounded"
	"fewtubes/gamut/certain"
	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// mutation changes something of a certificate at step i; false: it has nothing to
// change there.
type mutation struct {
	name   string
	action check.Action
	change func(c *check.Certificate, i int, rng *rand.Rand) bool
}

var tighter = map[check.Row]float64{check.MostR: -1, check.LeastR: 1, check.MostS: -1, check.LeastS: 1}

func pickTerm(s *check.Step, rng *rand.Rand, change func(t *check.Term)) bool {
	if len(s.Terms) == 0 {
		return false
	}
	change(&s.Terms[rng.IntN(len(s.Terms))])
	return true
}

// Changes that weaken the ground under a step, or ask more of it.
var mutations = []mutation{
	{"a limit tightened by a tenth of what it moved", check.Move, func(c *check.Certificate, i int, _ *rand.Rand) bool {
		c.Steps[i].Value *= 1 + 0.01*tighter[c.Steps[i].Limit]
		return true
	}},
	{"a limit tightened by a hair", check.Move, func(c *check.Certificate, i int, _ *rand.Rand) bool {
		c.Steps[i].Value *= 1 + 3e-5*tighter[c.Steps[i].Limit]
		return true
	}},
	{"the grounds of a limit dropped", check.Move, func(c *check.Certificate, i int, _ *rand.Rand) bool {
		had := len(c.Steps[i].Terms) > 0
		c.Steps[i].Terms = nil
		return had
	}},
	{"a multiplier of a limit changed", check.Move, func(c *check.Certificate, i int, rng *rand.Rand) bool {
		return pickTerm(&c.Steps[i], rng, func(t *check.Term) { t.Times *= 0.5 + rng.Float64() })
	}},
	{"a term of a limit named after another band or cut", check.Move, func(c *check.Certificate, i int, rng *rand.Rand) bool {
		return pickTerm(&c.Steps[i], rng, func(t *check.Term) { t.Index = (t.Index + 1) % colour.Bands })
	}},
	{"a limit of another kind", check.Move, func(c *check.Certificate, i int, _ *rand.Rand) bool {
		c.Steps[i].Limit = (c.Steps[i].Limit + 1) % check.CutRow
		return c.Steps[i].Value < 1
	}},
	{"the grounds of an empty cell dropped", check.Empty, func(c *check.Certificate, i int, _ *rand.Rand) bool {
		c.Steps[i].Terms = nil
		return true
	}},
	{"a term of an empty cell dropped", check.Empty, func(c *check.Certificate, i int, rng *rand.Rand) bool {
		k := rng.IntN(len(c.Steps[i].Terms))
		c.Steps[i].Terms = slices.Delete(c.Steps[i].Terms, k, k+1)
		return true
	}},
	{"a multiplier below zero", check.Empty, func(c *check.Certificate, i int, rng *rand.Rand) bool {
		return pickTerm(&c.Steps[i], rng, func(t *check.Term) { t.Times = -t.Times })
	}},
	{"a multiplier of an empty cell changed", check.Empty, func(c *check.Certificate, i int, rng *rand.Rand) bool {
		return pickTerm(&c.Steps[i], rng, func(t *check.Term) { t.Times *= 3 * rng.Float64() })
	}},
	{"a cell left open", check.Empty, func(c *check.Certificate, i int, _ *rand.Rand) bool {
		c.Steps = slices.Delete(c.Steps, i, i+1)
		return true
	}},
	{"a cut of another face", check.MakeCut, func(c *check.Certificate, i int, rng *rand.Rand) bool {
		c.Steps[i].Cut.Face = rng.IntN(len(c.Faces) + 1)
		return true
	}},
	{"a cut hinged at the other ends", check.MakeCut, func(c *check.Certificate, i int, _ *rand.Rand) bool {
		for b := range c.Steps[i].Cut.Planes {
			c.Steps[i].Cut.Planes[b].High = !c.Steps[i].Cut.Planes[b].High
		}
		return true
	}},
	{"a cut that touches elsewhere", check.MakeCut, func(c *check.Certificate, i int, rng *rand.Rand) bool {
		for b := range c.Steps[i].Cut.Planes {
			if t := &c.Steps[i].Cut.Planes[b].Touch; *t != 0 {
				*t *= 0.8 + 0.15*rng.Float64()
			}
		}
		return true
	}},
	{"a cut left out", check.MakeCut, func(c *check.Certificate, i int, _ *rand.Rand) bool {
		c.Steps = slices.Delete(c.Steps, i, i+1)
		return true
	}},
}

// Changes that take nothing from a proof. Any tangent lies under R, any limit
// may stand twice, and multipliers of an empty cell may be scaled together.
var harmless = []mutation{
	{"multipliers of an empty cell doubled", check.Empty, func(c *check.Certificate, i int, _ *rand.Rand) bool {
		for k := range c.Steps[i].Terms {
			c.Steps[i].Terms[k].Times *= 2
		}
		return true
	}},
	{"terms in another order", check.Move, func(c *check.Certificate, i int, _ *rand.Rand) bool {
		slices.Reverse(c.Steps[i].Terms)
		return true
	}},
	{"a limit proved twice", check.Move, func(c *check.Certificate, i int, _ *rand.Rand) bool {
		s := c.Steps[i]
		s.Terms = []check.Term{{Row: s.Limit, Index: s.Band, Times: 1}}
		c.Steps = slices.Insert(c.Steps, i+1, s)
		return true
	}},
	{"a term of nothing", check.Empty, func(c *check.Certificate, i int, _ *rand.Rand) bool {
		c.Steps[i].Terms = append(c.Steps[i].Terms, check.Term{Row: check.MostR, Index: 3, Times: 0})
		return true
	}},
	{"a needless cut at the end of a cell", check.Empty, func(c *check.Certificate, i int, _ *rand.Rand) bool {
		for k := i; k >= 0; k-- {
			if c.Steps[k].Action == check.MakeCut {
				c.Steps = slices.Insert(c.Steps, i, c.Steps[k])
				return true
			}
		}
		return false
	}},
}

// TestCheckerDecidesAsRationals changes a proof in ways chosen to break it and in
// ways that take nothing from it, asks plain rational arithmetic what is left of it,
// and holds the checker to that: at least 60 broken proofs are refused, some of each
// change, and every sound one is accepted. make certain asks for 200.
func TestCheckerDecidesAsRationals(t *testing.T) {
	enough := bounded.Cases(t, 24, 200)
	whole, light := text(t, farViolet(t)), colour.D65()
	if o := (&oracle{read(t, whole), light, 0, 1 << 20, nil}); !o.holds() {
		t.Fatal("rational arithmetic refuses the proof as it was written")
	}
	rng := rand.New(rand.NewPCG(9, 4))
	broken, sound := map[string]int{}, map[string]int{}
	cuts := map[int]func() []*big.Rat{}
	n := 0
	// reach: how many steps from the one changed may be touched
	try := func(m *mutation, reach int) {
		c := read(t, whole)
		i, ok := stepOf(c, m.action, rng)
		if !ok || !m.change(c, i, rng) {
			return
		}
		holds := (&oracle{c, light, i, i + reach, cuts}).holds()
		if err := c.StepsHold(); (err == nil) != holds {
			t.Errorf("step %d, %s: the checker says %v, rational arithmetic %v", i, m.name, err, holds)
		}
		if holds {
			sound[m.name]++
		} else {
			n++
			broken[m.name]++
		}
	}
	for k := 0; (n < enough || len(broken) < len(mutations)) && k < 500; k++ {
		try(&mutations[k%len(mutations)], 1<<20)
	}
	if n < enough || len(broken) < len(mutations) {
		t.Errorf("only %d proofs were broken, by %d of %d changes", n, len(broken), len(mutations))
	}
	for k := range 2 * len(harmless) {
		m := &harmless[k%len(harmless)]
		if try(m, 2); broken[m.name] > 0 {
			t.Errorf("%s broke the proof", m.name)
		}
	}
	t.Logf("%d broken: %v", n, broken)
	t.Logf("sound: %v", sound)
}

// farViolet is a proof short enough for a hundred replays in rationals.
func farViolet(t *testing.T) *check.Certificate {
	t.Helper()
	paints := acrylics(t, "PW6", "PB29", "PY184")
	got, err := certain.Unreachable(context.Background(), paints, film.Dry, colour.D65(), colour.Lab{L: 50, A: 22, B: -26}, 2, certain.Options{})
	if err != nil || got.Certificate == nil {
		t.Fatalf("%v, %v", got, err)
	}
	t.Logf("%d steps", len(got.Certificate.Steps))
	return got.Certificate
}

// stepOf picks a step of one kind, if there is one.
func stepOf(c *check.Certificate, kind check.Action, rng *rand.Rand) (i int, ok bool) {
	var of []int
	for i := range c.Steps {
		if c.Steps[i].Action == kind {
			of = append(of, i)
		}
	}
	if len(of) == 0 {
		return 0, false
	}
	return of[rng.IntN(len(of))], true
}
