package letdown

import (
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/solver"
)

func builtin(t testing.TB) map[string]catalog.Tube {
	t.Helper()
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]catalog.Tube{}
	for _, tube := range all.Tubes() {
		out[tube.ID] = tube
	}
	return out
}

func lookup(tubes map[string]catalog.Tube) func(string) *catalog.Tube {
	return func(id string) *catalog.Tube {
		tube := tubes[id]
		return &tube
	}
}

// options see a mix as the built-in tubes were fitted.
var options = gamut.Options{Surface: film.Dry, Light: colour.D65()}

// A trace of a strong tinter in white becomes whole parts of a pile, and the
// colour is that of the volumes it stands for.
func TestTraceInWhite(t *testing.T) {
	tubes := builtin(t)
	shares := []solver.Share{{ID: "titanium-white", Fraction: 0.99}, {ID: "phthalo-blue-green-shade", Fraction: 0.01}}
	target := colourOf(tubes, shares)
	r, err := Find(target, shares, 0, options, lookup(tubes))
	if err != nil {
		t.Fatal(err)
	}
	if !r.LetsDown() || r.DE > 1 {
		t.Errorf("%v is off by %v", r.Words(func(id string) string { return id }), r.DE)
	}
	volumes := map[string]float64{}
	for _, p := range r.Parts {
		strong := 1.0
		if p.In != "" {
			strong = 1 / float64(p.Ratio+1)
		}
		if p.Times == 2 {
			strong *= strong
		}
		volumes[p.Tube] += strong * p.Parts()
		volumes[p.In] += (1 - strong) * p.Parts()
	}
	plain := colourOf(tubes, []solver.Share{{ID: "titanium-white", Fraction: volumes["titanium-white"]}, {ID: "phthalo-blue-green-shade", Fraction: volumes["phthalo-blue-green-shade"]}})
	if d := colour.DE2000(plain, r.Lab); d > 1e-6 {
		t.Errorf("the volumes make %v, the piles %v", plain, r.Lab)
	}
}

// colourOf is the opaque film of some volumes.
func colourOf(tubes map[string]catalog.Tube, shares []solver.Share) colour.Lab {
	var sum film.Paint
	for _, s := range shares {
		paint := tubes[s.ID].Paint
		for b := range sum.K {
			sum.K[b] += s.Fraction * paint.K[b]
			sum.S[b] += s.Fraction * paint.S[b]
		}
	}
	seen := sum.Masstone(film.Dry)
	return colour.D65().Lab(&seen)
}

// Of 300 seeded mixes that a palette with strong tinters makes, at least nine
// in ten are met within 1.0 by parts once the strong tinters are let down.
func TestLetDownIsNearEnough(t *testing.T) {
	tubes := builtin(t)
	palette := []string{"titanium-white", "hansa-yellow-medium", "pyrrole-red", "phthalo-blue-green-shade", "phthalo-green-blue-shade", "burnt-sienna", "ivory-black"}
	rng := rand.New(rand.NewPCG(1, 300))
	near, plainNear, worst := 0, 0, 0.0
	const n = 300
	for range n {
		shares := randomMix(rng, palette)
		target := colourOf(tubes, shares)
		r, err := Find(target, shares, 0, options, lookup(tubes))
		if err != nil {
			t.Fatal(err)
		}
		if r.DE <= 1 {
			near++
		}
		worst = math.Max(worst, r.DE)
		if plain(t, tubes, target, shares) <= 1 {
			plainNear++
		}
	}
	t.Logf("within 1.0: %d of %d let down, %d in plain parts; worst %.2f", near, n, plainNear, worst)
	if near < n*9/10 {
		t.Errorf("only %d of %d within 1.0", near, n)
	}
}

// randomMix takes two to four tubes in shares spread over three orders.
func randomMix(rng *rand.Rand, palette []string) (shares []solver.Share) {
	sum := 0.0
	for _, i := range rng.Perm(len(palette))[:2+rng.IntN(3)] {
		f := math.Pow(10, -2.5*rng.Float64())
		shares = append(shares, solver.Share{ID: palette[i], Fraction: f})
		sum += f
	}
	for i := range shares {
		shares[i].Fraction /= sum
	}
	return shares
}

func plain(t *testing.T, tubes map[string]catalog.Tube, target colour.Lab, shares []solver.Share) float64 {
	t.Helper()
	var paints []film.Paint
	var all []int
	for i, s := range shares {
		paints = append(paints, tubes[s.ID].Paint)
		all = append(all, i)
	}
	m, err := gamut.NewMixer(paints, options)
	if err != nil {
		t.Fatal(err)
	}
	return m.Recipe(target, gamut.Mix{Paints: all}, 0).DE
}

// A white of some size is the base, though another paint is the larger share, so
// that one pile serves many mixes; a little white is not.
func TestLetDownInWhite(t *testing.T) {
	tubes := builtin(t)
	for white, want := range map[float64]string{0.2: "titanium-white", 0.1: "yellow-ochre"} {
		shares := []solver.Share{{ID: "yellow-ochre", Fraction: 0.995 - white}, {ID: "titanium-white", Fraction: white}, {ID: "phthalo-blue-green-shade", Fraction: 0.005}}
		r, err := Find(colourOf(tubes, shares), shares, 0, options, lookup(tubes))
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range r.Parts {
			if p.Tube == "phthalo-blue-green-shade" && p.In != want {
				t.Errorf("%v of white: let down in %q, want %s", white, p.In, want)
			}
		}
	}
}

// What is about a part of twenty is let down, and no more than the base has room
// for; what would then still be a trace is let down twice.
func TestPileOf(t *testing.T) {
	for _, c := range []struct {
		share, base float64
		want        hand.Part
	}{
		{0.07, 0.9, hand.Part{Tube: "blue"}},
		{0.06, 0.9, hand.Part{Tube: "blue", In: "white", Ratio: 10, Times: 1}},
		{0.06, 0.5, hand.Part{Tube: "blue"}}, // 0.66 of a pile in 0.5 of white
		{0.004, 0.9, hand.Part{Tube: "blue", In: "white", Ratio: 10, Times: 1}},
		{0.003, 0.9, hand.Part{Tube: "blue", In: "white", Ratio: 10, Times: 2}},
		{0.003, 0.3, hand.Part{Tube: "blue", In: "white", Ratio: 10, Times: 1}}, // twice takes 0.363 of white
	} {
		got := pileOf(solver.Share{ID: "blue", Fraction: c.share}, solver.Share{ID: "white", Fraction: c.base}, 10)
		if got != c.want {
			t.Errorf("%v in %v: %+v, want %+v", c.share, c.base, got, c.want)
		}
	}
	if got := pileOf(solver.Share{ID: "white", Fraction: 0.01}, solver.Share{ID: "white", Fraction: 0.01}, 10); got != (hand.Part{Tube: "white"}) {
		t.Errorf("a base let down in itself: %+v", got)
	}
}
