package set

import (
	"maps"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Sets against Go's own maps, over the edges of words.
func TestSetAgainstMaps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.SampledFrom([]int{1, 63, 64, 65, 130}).Draw(t, "n")
		s, other := New(n), New(n)
		in, inOther := map[int]bool{}, map[int]bool{}
		for range rapid.IntRange(0, 60).Draw(t, "changes") {
			i := rapid.IntRange(0, n-1).Draw(t, "i")
			switch rapid.IntRange(0, 3).Draw(t, "change") {
			case 0:
				s.Remove(i)
				delete(in, i)
			case 1:
				other.Add(i)
				inOther[i] = true
			default:
				s.Add(i)
				in[i] = true
			}
		}
		if got, want := s.Members(), slices.Sorted(maps.Keys(in)); !slices.Equal(got, want) || s.Len() != len(want) {
			t.Fatalf("%v, want %v", got, want)
		}
		subset, meets := true, false
		for i := range n {
			if s.Has(i) != in[i] {
				t.Fatalf("has %d: %v", i, s.Has(i))
			}
			subset = subset && (!in[i] || inOther[i])
			meets = meets || (in[i] && inOther[i])
		}
		if s.SubsetOf(other) != subset || s.Meets(other) != meets {
			t.Fatalf("%v in %v: %v, meets %v", s, other, s.SubsetOf(other), s.Meets(other))
		}
		for name, c := range map[string]struct {
			got  Set
			want func(i int) bool
		}{
			"union":        {Union(s, other), func(i int) bool { return in[i] || inOther[i] }},
			"minus":        {Minus(s, other), func(i int) bool { return in[i] && !inOther[i] }},
			"intersection": {Intersection(s, other), func(i int) bool { return in[i] && inOther[i] }},
		} {
			for i := range n {
				if c.got.Has(i) != c.want(i) {
					t.Fatalf("%s of %v and %v: %v", name, s, other, c.got)
				}
			}
		}
		if s.Equal(other) != (subset && other.SubsetOf(s)) {
			t.Fatalf("%v equals %v: %v", s, other, s.Equal(other))
		}
		again := s.Clone()
		again.Remove(0)
		again.Add(n - 1)
		if !slices.Equal(s.Members(), slices.Sorted(maps.Keys(in))) {
			t.Fatal("a clone shares its words")
		}
	})
	if full := Full(65); full.Len() != 65 || full.Has(65) {
		t.Error("full set")
	}
	if s := Of(70, 3, 69); !slices.Equal(s.Members(), []int{3, 69}) {
		t.Errorf("%v", s.Members())
	}
}
