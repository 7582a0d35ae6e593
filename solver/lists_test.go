package solver

import (
	"context"
	"math"
	"math/bits"
	"slices"
	"sync/atomic"
	"testing"

	"fewtubes/gamut"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/reach"
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
		if !s.choice.Oracle.Lists() {
			t.Fatalf("case %d: no table", seed)
		}
		a, err := s.Choose(context.Background(), Limits{}, Accuracy, nil)
		if err != nil {
			t.Fatal(err)
		}
		if a.Minimum.Tubes != max(size, 1) || len(a.Unreachable) != len(p.Targets)-bits.OnesCount(reachable) {
			t.Errorf("case %d: %d tubes, by brute force %d; %d out of reach", seed, a.Minimum.Tubes, size, len(a.Unreachable))
		}
		if fewer := meetingAll(s.index, a.Needs, a.Minimum.Tubes-1); fewer != nil && len(a.Needs) > 0 {
			t.Errorf("case %d: %v meet every need", seed, fewer)
		}
		s.choice.Oracle = searching{s.choice.Oracle}
		b, err := s.Choose(context.Background(), Limits{}, Accuracy, nil)
		if err != nil {
			t.Fatal(err)
		}
		if a.Minimum != b.Minimum || len(a.Unreachable) != len(b.Unreachable) || a.Palettes[0].Price != b.Palettes[0].Price || !slices.Equal(paletteKeys(a), paletteKeys(b)) {
			t.Errorf("case %d: %v, %d palettes, by cuts %v, %d", seed, a.Minimum, len(a.Palettes), b.Minimum, len(b.Palettes))
		}
	}
}

// searching is an oracle that does not list what it could.
type searching struct{ reach.Oracle }

func (searching) Lists() bool { return false }

// meetingAll is a palette of at most so many tubes that meets every need, or nil.
func meetingAll(x *index, needs []Need, most int) set.Set {
	for s := range uint64(1) << len(x.tubes) {
		palette := set.Set{s}
		if palette.Len() <= most && !slices.ContainsFunc(needs, func(n Need) bool {
			return !slices.ContainsFunc(x.ids(palette), func(id string) bool { return slices.Contains(n.OneOf, id) })
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
type forgetful struct {
	reach.Oracle
	left *atomic.Int64 // out
}

// least are the sets of up to three tubes of a palette that are not left out.
func (f forgetful) least(t int, palette set.Set, tolerance float64) (out [][]int) {
	all := slices.DeleteFunc(subsets(10), func(s set.Set) bool { return s.Len() == 0 || s.Len() > 3 || !s.SubsetOf(palette) })
	slices.SortStableFunc(all, func(a, b set.Set) int { return a.Len() - b.Len() })
	for _, s := range all {
		if _, ok := f.Oracle.Listed(t, s, tolerance); !ok || slices.ContainsFunc(out, func(o []int) bool { return set.Of(10, o...).SubsetOf(s) }) {
			continue
		}
		if remembered(s.Members()) {
			out = append(out, s.Members())
		} else {
			f.left.Add(1)
		}
	}
	return out
}

func (f forgetful) Brings(t int, palette set.Set, tube int, tolerance float64) bool {
	with := palette.Clone()
	with.Add(tube)
	return slices.ContainsFunc(f.least(t, with, tolerance), func(s []int) bool { return slices.Contains(s, tube) })
}

func (f forgetful) Listed(t int, palette set.Set, tolerance float64) (gamut.Mix, bool) {
	all := f.least(t, palette, tolerance)
	if len(all) == 0 {
		return gamut.Mix{DE: math.Inf(1)}, false
	}
	return f.Oracle.Listed(t, set.Of(64, all[0]...), tolerance)
}

func remembered(tubes []int) bool {
	sum := 0
	for _, i := range tubes {
		sum += i
	}
	return sum%3 != 0
}

// No verdict rests on a list: what it overlooks is found before a proof is given.
func TestListsThatOverlookProveNothing(t *testing.T) {
	overlooked := 0
	for seed := range uint64(24) {
		p := smallProblem(t, seed, 10)
		p.PaintsPerMix = 2 + int(seed%2)
		table := newReachTable(t, &p)
		size, reachable := table.smallest()
		s, err := NewSession(p)
		if err != nil {
			t.Fatal(err)
		}
		var left atomic.Int64
		s.choice.Oracle = forgetful{s.choice.Oracle, &left}
		a, err := s.Choose(context.Background(), Limits{}, Accuracy, nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Unreachable) != len(p.Targets)-bits.OnesCount(reachable) || a.Minimum.Tubes != max(size, 1) {
			t.Errorf("case %d: %d tubes, by brute force %d; %d colours out of reach", seed, a.Minimum.Tubes, size, len(a.Unreachable))
		}
		if left.Load() > 0 {
			overlooked++
		}
	}
	if overlooked < 10 {
		t.Errorf("something was overlooked in only %d cases", overlooked)
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
		domain := set.Full(len(p.Tubes))
		for at, k := range s.choice.Blank().Known {
			tolerance := p.Targets[at].Tolerance
			f, ok, err := k.Grow(context.Background(), set.New(len(p.Tubes)), domain, tolerance)
			if err != nil || !ok {
				t.Fatal(ok, err)
			}
			if listed(s, at, f.Set, tolerance) {
				t.Errorf("case %d: colour %d is within reach of its failing set", seed, at)
			}
			for _, i := range set.Minus(domain, f.Set).Members() {
				more := f.Set.Clone()
				more.Add(i)
				if !listed(s, at, more, tolerance) {
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

func listed(s *Session, t int, palette set.Set, tolerance float64) bool {
	_, ok := s.choice.Oracle.Listed(t, palette, tolerance)
	return ok
}
