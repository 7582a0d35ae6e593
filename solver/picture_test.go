package solver

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
)

// counted is what brute force knows of a small case: which sets of up to three tubes
// reach each colour.
type counted struct {
	n     int
	reach [][]set.Set // per colour
}

func count(m *gamut.Mixer, colours []colour.Lab, tolerance float64) *counted {
	c := &counted{m.Len(), make([][]set.Set, len(colours))}
	for _, s := range subsets(c.n) {
		if s.Len() == 0 || s.Len() > 3 {
			continue
		}
		for i, lab := range colours {
			if m.Closest(lab, s, gamut.Verdict).DE <= tolerance {
				c.reach[i] = append(c.reach[i], s)
			}
		}
	}
	return c
}

func (c *counted) reaches(i int, palette set.Set) bool {
	return slices.ContainsFunc(c.reach[i], func(s set.Set) bool { return s.SubsetOf(palette) })
}

// Against all palettes of eight tubes, mixed three at a time: the size, and of the
// palettes of that size one with fewest drawbacks.
func TestPictureAgainstBruteForce(t *testing.T) {
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	sizes := map[int]int{}
	for seed := range uint64(20) {
		rng := rand.New(rand.NewPCG(seed, 23))
		tubes := slices.Clone(all.Tubes())
		rng.Shuffle(len(tubes), func(i, j int) { tubes[i], tubes[j] = tubes[j], tubes[i] })
		tubes = tubes[:7]
		white, err := all.Get("titanium-white")
		if err != nil {
			t.Fatal(err)
		}
		if !slices.ContainsFunc(tubes, func(x catalog.Tube) bool { return x.ID == white.ID }) {
			tubes = append(tubes, white)
		}
		drawn := func() colour.Lab {
			return colour.LCh{L: 25 + 65*rng.Float64(), C: 40 * rng.Float64(), H: 360 * rng.Float64()}.Lab()
		}
		p := Problem{Tubes: tubes, Surface: film.Dry, PaintsPerMix: 3, Targets: []Target{{Name: "named", Lab: colour.Lab{L: 60, A: 3, B: 15}, Tolerance: 5}}}
		picture := &Picture{Tolerance: 5, Share: 0.6 + 0.4*rng.Float64(), Alone: seed%2 == 0}
		for range 40 {
			picture.Colours, picture.Weights = append(picture.Colours, drawn()), append(picture.Weights, rng.IntN(9))
		}
		s, err := NewSession(p)
		if err != nil {
			t.Fatal(err)
		}
		var limits Limits
		if seed%3 == 0 {
			limits.Never = []string{tubes[0].ID}
		}
		got, err := s.ChoosePicture(t.Context(), limits, Usual, picture)
		if err != nil {
			t.Fatal(err)
		}
		colours := append(slices.Clone(picture.Colours), p.Targets[0].Lab)
		brute := count(s.mixer, colours, 5)
		named := len(colours) - 1
		allowed := set.Full(len(tubes))
		if len(limits.Never) > 0 {
			allowed.Remove(0)
		}
		weigh := func(palette set.Set) (sum int) {
			for i, w := range picture.Weights {
				if brute.reaches(i, palette) {
					sum += w
				}
			}
			return sum
		}
		ceiling := weigh(allowed)
		if got.Ceiling != ceiling {
			t.Errorf("seed %d: ceiling %d, want %d", seed, got.Ceiling, ceiling)
		}
		order := Usual.order(tubes)
		size, least := len(tubes)+1, 0
		for _, palette := range subsets(len(tubes)) {
			if !palette.SubsetOf(allowed) || float64(weigh(palette)) < picture.Share*float64(ceiling)-1e-9 {
				continue
			}
			if !picture.Alone && brute.reaches(named, allowed) && !brute.reaches(named, palette) {
				continue
			}
			sum := 0
			for _, i := range palette.Members() {
				sum += order.Weigh(nil, palette.Len())[i]
			}
			if n := palette.Len(); n < size || n == size && sum < least {
				size, least = n, sum
			}
		}
		if got.Minimum.Tubes != size || len(got.Palettes) != 1 {
			t.Errorf("seed %d: %v of %d tubes, want %d", seed, got.Palettes, got.Minimum.Tubes, size)
			continue
		}
		sizes[size]++
		palette, err := s.index.find("palette", got.Palettes[0])
		if err != nil {
			t.Fatal(err)
		}
		sum := 0
		for _, i := range palette.Members() {
			sum += order.Weigh(nil, size)[i]
		}
		if sum != least || got.Reached != weigh(palette) || float64(got.Reached) < picture.Share*float64(ceiling)-1e-9 {
			t.Errorf("seed %d: %v weighs %d, want %d; it reaches %d, counted %d of %d", seed, got.Palettes[0], sum, least, got.Reached, weigh(palette), ceiling)
		}
		// Without one of the tubes of each need its colours are missed, as many as cannot be
		// spared by any smaller palette.
		for _, n := range got.Needs {
			without, err := s.index.find("need", n.OneOf)
			if err != nil {
				t.Fatal(err)
			}
			rest := set.Minus(allowed, without)
			for _, i := range n.Colours {
				if brute.reaches(i, rest) {
					t.Errorf("seed %d: colour %d is reached without %v", seed, i, n.OneOf)
				}
			}
		}
	}
	t.Logf("sizes: %v", sizes)
}

// What cannot be had under the limits has no palette, and an ended context no answer.
func TestPictureBounds(t *testing.T) {
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	s, err := NewSession(Problem{Tubes: all.Tubes(), Surface: film.Dry, Targets: []Target{{Name: "named", Lab: colour.Lab{L: 60}, Tolerance: 3}}})
	if err != nil {
		t.Fatal(err)
	}
	picture := &Picture{Colours: []colour.Lab{{L: 50, A: 40, B: 30}, {L: 60, A: -20, B: 40}, {L: 50, A: 5, B: -35}}, Weights: []int{1, 1, 1}, Tolerance: 2, Share: 1, Alone: true}
	got, err := s.ChoosePicture(t.Context(), Limits{MaxTubes: 1}, Usual, picture)
	if err != nil || len(got.Palettes) != 0 || got.Ceiling != 3 {
		t.Errorf("%+v, %v", got, err)
	}
	ended, end := context.WithCancel(t.Context())
	end()
	if _, err := s.ChoosePicture(ended, Limits{}, Usual, picture); err == nil {
		t.Error("an answer after the end")
	}
	for _, bad := range []Picture{{}, {Colours: picture.Colours, Weights: picture.Weights, Tolerance: 2, Share: 1.5}, {Colours: picture.Colours, Weights: picture.Weights, Share: 0.5}} {
		if _, err := s.ChoosePicture(t.Context(), Limits{}, Usual, &bad); err == nil {
			t.Errorf("%+v is no picture", bad)
		}
	}
}
