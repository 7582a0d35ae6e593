package few

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/internal/search"
	"fewtubes/gamut/set"

	"pgregory.net/rapid"
)

// edgeOfReach is how near to the distance asked about a set may lie for the table
// and a search to differ on it.
const edgeOfReach = 0.005

// dry are paints in dry films under daylight.
func dry(paints []film.Paint, limit int) *search.Paints {
	return search.New(paints, film.Dry, colour.D65(), limit)
}

// nearSome draws a colour about as far from a mix of a few paints as tolerances are.
func nearSome(m *search.Paints, rng *rand.Rand) colour.Lab {
	list := samples.Palette(m.Len(), 2, 4, rng)
	amounts := make([]float64, len(list))
	for i := range amounts {
		amounts[i] = rng.ExpFloat64()
	}
	lab := m.Evaluate(list, amounts)
	return colour.Lab{L: lab.L + 3*rng.NormFloat64(), A: lab.A + 4*rng.NormFloat64(), B: lab.B + 4*rng.NormFloat64()}
}

// Every single paint, pair and triple by itself, searched at verdict effort.
func TestTableKnowsWhatReaches(t *testing.T) {
	all := samples.Tubes(t, "../../testdata/tubes.csv")
	reaching := 0
	for limit := 1; limit <= 3; limit++ {
		rng := rand.New(rand.NewPCG(11, uint64(limit)))
		for range 4 {
			var paints []film.Paint
			for _, i := range rng.Perm(len(all))[:9] {
				paints = append(paints, all[i])
			}
			m := dry(paints, limit)
			targets := []colour.Lab{nearSome(m, rng), nearSome(m, rng), nearSome(m, rng)}
			table := NewTable(m, targets)
			for at, target := range targets {
				for _, distance := range []float64{6, 3, 1} {
					for among, far := range fewPaints(m, target, limit) {
						held := table.Reaches(at, among.all(m.Len()), distance)
						if held != nil && far > distance+edgeOfReach || held == nil && far < distance-edgeOfReach {
							t.Errorf("%d paints in a mix, target %v within %v: %v comes within %.4f, reaches: %v", limit, target, distance, among, far, held)
						}
						if held == nil {
							continue
						}
						reaching++
						if mix := table.Nearest(at, held); mix.DE > distance {
							t.Errorf("%v reaches within %v and comes within %v", held, distance, mix.DE)
						}
					}
				}
			}
		}
	}
	if reaching < 200 {
		t.Errorf("only %d sets reach", reaching)
	}
}

// fewSet is up to three paints; -1 where there are fewer.
type fewSet [3]int

func (s fewSet) all(n int) set.Set {
	out := set.New(n)
	for _, i := range s {
		if i >= 0 {
			out.Add(i)
		}
	}
	return out
}

// fewPaints are the distances of all sets of few paints.
func fewPaints(m *search.Paints, target colour.Lab, limit int) map[fewSet]float64 {
	out := map[fewSet]float64{}
	n := m.Len()
	for i := range n {
		for j := -1; j < i; j++ {
			for k := -1; k < max(j, 0); k++ {
				s := fewSet{i, j, k}
				if set := s.all(n); set.Len() <= limit {
					out[s] = m.Closest(target, set, search.Verdict).DE
				}
			}
		}
	}
	return out
}

// What a search finds for a palette, the table knows of, and the other way round; and
// it says the same whatever it was asked before.
func TestTableDeniesNoReach(t *testing.T) {
	paints := samples.Tubes(t, "../../testdata/tubes.csv")
	for limit := 1; limit <= 3; limit++ {
		m := dry(paints, limit)
		rng := rand.New(rand.NewPCG(12, uint64(limit)))
		var targets []colour.Lab
		for range 20 {
			targets = append(targets, nearSome(m, rng))
		}
		table := NewTable(m, targets)
		t.Run(fmt.Sprint(limit), rapid.MakeCheck(func(t *rapid.T) {
			at := rapid.IntRange(0, len(targets)-1).Draw(t, "target")
			distance := rapid.Float64Range(0.5, 10).Draw(t, "distance")
			palette := set.Of(m.Len(), rapid.SliceOfNDistinct(rapid.IntRange(0, m.Len()-1), 1, 12, rapid.ID).Draw(t, "palette")...)
			mix := m.Closest(targets[at], palette, search.Search)
			held := table.Reaches(at, palette, distance)
			switch {
			case held == nil && mix.DE < distance-edgeOfReach:
				t.Fatalf("a mix of %v comes within %v", mix.Paints, mix.DE)
			case held != nil && !set.Of(m.Len(), held...).SubsetOf(palette):
				t.Fatalf("%v is no part of the palette", held)
			case held != nil:
				near := table.Nearest(at, held)
				if near.DE > distance || near.DE < mix.DE-0.02 {
					t.Fatalf("%v comes within %v, by a search within %v", held, near.DE, mix.DE)
				}
			}
			if fresh := NewTable(m, targets).Reaches(at, palette, distance); !slices.Equal(fresh, held) {
				t.Fatalf("%v, and asked afresh %v", held, fresh)
			}
		}))
	}
}

// Between two vertices of its mesh a mix may come nearer than either, and than the
// straight line from one to the other: colours on the outside of such a bend are
// reached.
func TestTableSeesBends(t *testing.T) {
	m := dry(samples.Tubes(t, "../../testdata/tubes.csv"), 3)
	rng := rand.New(rand.NewPCG(14, 1))
	bent := 0
	for range 400 {
		shape, paints := &curve, samples.Palette(m.Len(), 2, 2, rng)
		if rng.IntN(2) == 0 {
			shape, paints = &surface, samples.Palette(m.Len(), 3, 3, rng)
		}
		slices.Sort(paints)
		piece := shape.pieces[rng.IntN(len(shape.pieces))]
		at := func(weight [3]float64) colour.Lab {
			amounts := amountsOf(weight)
			lab := m.Meter().Scaled(paints, amounts[:len(paints)])
			return lab
		}
		a, b := shape.weights[piece.vertices[0]], shape.weights[piece.vertices[1]]
		p, q, middle := at(a), at(b), at(halfway(a, b))
		out := colour.Lab{L: middle.L - (p.L+q.L)/2, A: middle.A - (p.A+q.A)/2, B: middle.B - (p.B+q.B)/2}
		bend := colour.DE2000(middle, colour.Lab{L: middle.L - out.L, A: middle.A - out.A, B: middle.B - out.B})
		target := colour.Lab{L: middle.L + 2*out.L, A: middle.A + 2*out.A, B: middle.B + 2*out.B}
		near := m.Closest(target, set.Of(m.Len(), paints...), search.Verdict).DE
		distance := near + bend/8
		if bend < 0.1 || distance > 10 {
			continue
		}
		bent++
		if NewTable(m, []colour.Lab{target}).Reaches(0, set.Of(m.Len(), paints...), distance) == nil {
			t.Errorf("%v come within %.3f of %v, and the table denies them within %.3f", paints, near, target, distance)
		}
	}
	if bent < 50 {
		t.Errorf("only %d bends", bent)
	}
}

// A paint more brings a palette that misses a colour near exactly where the two
// together reach it, whatever was asked before; and one that is in no set that may
// come near never does.
func TestTableBringsWhatReaches(t *testing.T) {
	paints := samples.Tubes(t, "../../testdata/tubes.csv")
	asked, brought := 0, 0
	for limit := 1; limit <= 3; limit++ {
		m := dry(paints, limit)
		rng := rand.New(rand.NewPCG(13, uint64(limit)))
		targets := []colour.Lab{nearSome(m, rng), nearSome(m, rng), nearSome(m, rng)}
		table, other := NewTable(m, targets), NewTable(m, targets)
		for round := range 80 {
			at, distance := rng.IntN(len(targets)), []float64{4, 2, 1}[rng.IntN(3)]
			order := rng.Perm(m.Len())
			palette := set.Of(m.Len(), order[:1+rng.IntN(m.Len()-1)]...)
			if table.Reaches(at, palette, distance) != nil {
				continue
			}
			promise, err := table.Promise(context.Background(), at, set.Full(m.Len()), distance)
			if err != nil {
				t.Fatal(err)
			}
			if round%40 == 39 {
				if fresh, _ := NewTable(m, targets).Promise(context.Background(), at, set.Full(m.Len()), distance); !slices.Equal(promise, fresh) {
					t.Fatalf("%d paints in a mix: a promise of %v, and asked afresh %v", limit, promise, fresh)
				}
			}
			for _, paint := range set.Minus(set.Full(m.Len()), palette).Members() {
				with := palette.Clone()
				with.Add(paint)
				got, want := table.Brings(at, palette, paint, distance), other.Reaches(at, with, distance) != nil
				if got != want || got && promise[paint] == 0 {
					t.Fatalf("%d paints in a mix, colour %d within %v: %d brings %v near: %t, in truth %t, of %d that may", limit, at, distance, paint, palette.Members(), got, want, promise[paint])
				}
				if asked++; got {
					brought++
				}
			}
		}
	}
	if brought < 80 || asked-brought < 80 {
		t.Errorf("%d of %d brought near", brought, asked)
	}
}

// Redrawn paints reach what a table of them alone says.
func TestTableOfRedrawnPaints(t *testing.T) {
	all := samples.Tubes(t, "../../testdata/tubes.csv")
	for limit := 1; limit <= 3; limit++ {
		rng := rand.New(rand.NewPCG(14, uint64(limit)))
		order := rng.Perm(len(all))[:14]
		var paints, others []film.Paint
		for _, i := range order[:7] {
			paints = append(paints, all[i])
		}
		for _, i := range order[7:] {
			others = append(others, all[i])
		}
		m := dry(others, limit)
		targets := []colour.Lab{nearSome(m, rng), nearSome(m, rng), nearSome(m, rng)}
		redrawn, fresh := NewTable(dry(paints, limit), targets).Redrawn(others), NewTable(m, targets)
		reached := 0
		for range 200 {
			at, distance := rng.IntN(len(targets)), []float64{6, 3, 1.5}[rng.IntN(3)]
			palette := set.Of(m.Len(), rng.Perm(m.Len())[:1+rng.IntN(m.Len()-1)]...)
			got, want := redrawn.Reaches(at, palette, distance), fresh.Reaches(at, palette, distance)
			if !slices.Equal(got, want) {
				t.Fatalf("%d paints in a mix, colour %d within %v of %v: %v, a table of these alone %v", limit, at, distance, palette.Members(), got, want)
			}
			if got != nil {
				reached++
			}
		}
		if reached < 20 || reached > 180 {
			t.Errorf("%d paints in a mix: %d of 200 reached", limit, reached)
		}
	}
}

// What a palette promises is told of that palette, and ends with its context.
func TestTablePromisesByPalette(t *testing.T) {
	m := dry(samples.Tubes(t, "../../testdata/tubes.csv"), 3)
	rng := rand.New(rand.NewPCG(13, 1))
	table := NewTable(m, []colour.Lab{nearSome(m, rng)})
	full := set.Full(m.Len())
	all, err := table.Promise(context.Background(), 0, full, 4)
	if err != nil || slices.Max(all) == 0 {
		t.Fatal(all, err)
	}
	without := full.Clone()
	out := slices.Index(all, slices.Max(all))
	without.Remove(out)
	for _, palette := range []set.Set{without, full} {
		promise, err := table.Promise(context.Background(), 0, palette, 4)
		if err != nil {
			t.Fatal(err)
		}
		if palette.Has(out) != (promise[out] > 0) || palette.Has(out) != slices.Equal(promise, all) {
			t.Errorf("%v of %v", promise, palette.Members())
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := table.Promise(ctx, 0, full, 3); err == nil {
		t.Error("no error")
	}
	if promise, err := table.Promise(context.Background(), 0, full, 3); err != nil || slices.Max(promise) == 0 {
		t.Errorf("afterwards %v, %v", promise, err)
	}
}

// Too many paints, or too many in a mix, have no table.
func TestTableOfFewPaintsOnly(t *testing.T) {
	paints := samples.Tubes(t, "../../testdata/tubes.csv")
	many := slices.Repeat(paints, mostTabled[2]/len(paints)+1)
	for _, c := range []struct {
		paints []film.Paint
		limit  int
		want   bool
	}{{paints, 1, true}, {paints, 2, true}, {paints, 3, true}, {paints, 4, false}, {paints, len(paints), false}, {many, 1, true}, {many, 2, false}, {many, 3, false}} {
		m := dry(c.paints, c.limit)
		if got := NewTable(m, []colour.Lab{{L: 50}}) != nil; got != c.want {
			t.Errorf("%d paints, %d in a mix: a table %t", len(c.paints), c.limit, got)
		}
	}
}

// Whatever is within the distance is within the box.
func TestVicinityHoldsWhatIsNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		target := colour.Lab{L: draw(0, 100, "L"), A: draw(-90, 90, "a"), B: draw(-90, 90, "b")}
		distance := draw(0.5, 10, "distance")
		box := vicinity(target, distance)
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		for range 2000 {
			reach := 6 * distance * rng.Float64()
			lab := colour.Lab{L: target.L + reach*rng.NormFloat64()/2, A: target.A + reach*rng.NormFloat64(), B: target.B + reach*rng.NormFloat64()}
			if d := colour.DE2000(lab, target); d <= distance && box.beyond(&lab32{float32(lab.L), float32(lab.A), float32(lab.B)}) != 0 {
				t.Fatalf("%v is within %v of %v and not within %v", lab, d, target, box)
			}
		}
	})
}
