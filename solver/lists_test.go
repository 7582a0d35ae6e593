package solver

import (
	"context"
	"math/bits"
	"slices"
	"testing"

	"fewtubes/gamut"
)

// Two paints in a mix, chosen by lists, beside brute force over all subsets and
// beside cuts that are grown by searches, as they are for many paints.
func TestFewPaintsByLists(t *testing.T) {
	for seed := range uint64(24) {
		p := smallProblem(t, seed, 10)
		p.PaintsPerMix = 1 + int(seed%3)
		p.MostPalettes = 500
		table := newReachTable(t, &p)
		size, reachable := table.smallest()
		s, err := NewSession(p)
		if err != nil {
			t.Fatal(err)
		}
		if s.mixing.table == nil {
			t.Fatalf("case %d: no table", seed)
		}
		a, err := s.Choose(context.Background(), Limits{}, Accuracy, nil)
		if err != nil {
			t.Fatal(err)
		}
		if a.Minimum.Tubes != max(size, 1) || len(a.Unreachable) != len(p.Targets)-bits.OnesCount(reachable) {
			t.Errorf("case %d: %d tubes, by brute force %d; %d out of reach", seed, a.Minimum.Tubes, size, len(a.Unreachable))
		}
		if fewer := meetingAll(s.box, a.Needs, a.Minimum.Tubes-1); fewer != nil && len(a.Needs) > 0 {
			t.Errorf("case %d: %v meet every need", seed, fewer)
		}
		s.mixing.table = nil
		b, err := s.Choose(context.Background(), Limits{}, Accuracy, nil)
		if err != nil {
			t.Fatal(err)
		}
		if a.Minimum != b.Minimum || len(a.Unreachable) != len(b.Unreachable) || a.Palettes[0].Price != b.Palettes[0].Price || !slices.Equal(paletteKeys(a), paletteKeys(b)) {
			t.Errorf("case %d: %v, %d palettes, by cuts %v, %d", seed, a.Minimum, len(a.Palettes), b.Minimum, len(b.Palettes))
		}
	}
}

// meetingAll is a palette of at most so many tubes that meets every need, or nil.
func meetingAll(b *box, needs []Need, most int) gamut.Set {
	for s := range uint64(1) << len(b.tubes) {
		palette := gamut.Set{s}
		if palette.Len() <= most && !slices.ContainsFunc(needs, func(n Need) bool {
			return !slices.ContainsFunc(b.ids(palette), func(id string) bool { return slices.Contains(n.OneOf, id) })
		}) {
			return palette
		}
	}
	return nil
}

// paletteKeys are the palettes of an answer in some order that does not depend on it.
func paletteKeys(a *Answer) []string {
	var out []string
	for _, p := range a.Palettes {
		key := ""
		for _, id := range p.Tubes {
			key += id + " "
		}
		out = append(out, key)
	}
	slices.Sort(out)
	return out
}

// forgetful lists leave out every third set: what a quick look may overlook.
type forgetful struct{ *mixing }

func (f forgetful) least(ctx context.Context, t int, domain gamut.Set, tolerance float64) (out [][]int, err error) {
	all, err := f.mixing.least(ctx, t, domain, tolerance)
	for _, s := range all {
		if remembered(s) {
			out = append(out, s)
		}
	}
	return out, err
}

func (f forgetful) reach(t int, palette gamut.Set, tolerance float64) (gamut.Mix, bool) {
	all, _ := f.least(context.Background(), t, palette, tolerance)
	if len(all) == 0 {
		return gamut.Mix{DE: farOff}, false
	}
	return f.table.Nearest(t, all[0]), true
}

func remembered(set []int) bool {
	sum := 0
	for _, i := range set {
		sum += i
	}
	return sum%3 != 0
}

// No verdict rests on a list: what it overlooks is found before a proof is given.
func TestListsThatOverlookProveNothing(t *testing.T) {
	taken := 0
	for seed := range uint64(24) {
		p := smallProblem(t, seed, 10)
		p.PaintsPerMix = 2 + int(seed%2)
		table := newReachTable(t, &p)
		size, reachable := table.smallest()
		s, err := NewSession(p)
		if err != nil {
			t.Fatal(err)
		}
		c := s.blank()
		c = newCore(s.box, forgetful{s.mixing}, c.tolerance, c.area)
		d, err := c.decide(context.Background(), &wish{prefer: Accuracy, most: 5})
		if err != nil {
			t.Fatal(err)
		}
		if len(d.reachable) != bits.OnesCount(reachable) || d.size != max(size, 1) {
			t.Errorf("case %d: %d tubes for %d colours, by brute force %d for %d", seed, d.size, len(d.reachable), size, bits.OnesCount(reachable))
		}
		for _, k := range c.known {
			taken += len(k.unlisted)
		}
	}
	if taken < 10 {
		t.Errorf("only %d sets were found after they had been overlooked", taken)
	}
}

// A cut grown on a list is as large as it can be: any tube more reaches the target.
func TestGrownOnListsIsMaximal(t *testing.T) {
	grown := 0
	for seed := range uint64(8) {
		p := smallProblem(t, seed, 12)
		p.PaintsPerMix = 2 + int(seed%2)
		s, err := NewSession(p)
		if err != nil {
			t.Fatal(err)
		}
		domain := gamut.FullSet(len(p.Tubes))
		for at, k := range s.blank().known {
			tolerance := p.Targets[at].Tolerance
			f, ok, err := k.grow(context.Background(), gamut.NewSet(len(p.Tubes)), domain, tolerance)
			if err != nil || !ok {
				t.Fatal(ok, err)
			}
			if s.mixing.table.Reaches(at, f.set, tolerance) != nil {
				t.Errorf("case %d: colour %d is within reach of its failing set", seed, at)
			}
			for _, i := range minus(domain, f.set).Members() {
				more := f.set.Clone()
				more.Add(i)
				if s.mixing.table.Reaches(at, more, tolerance) == nil {
					t.Errorf("case %d: colour %d needs no tube %d", seed, at, i)
				}
				grown++
			}
		}
	}
	if grown == 0 {
		t.Error("nothing was left out")
	}
}
