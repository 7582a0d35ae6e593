package solver

import (
	"context"
	"fmt"
	"testing"
)

// Three needs of which each two share a tube take two tubes: no tube answers more
// than two of the three. Where counting does not do, there is no count.
func TestCountNeeds(t *testing.T) {
	need := func(ids ...string) Need { return Need{Target: "t", OneOf: ids} }
	ring := []Need{need("a", "b"), need("b", "c"), need("a", "c")}
	for _, c := range []struct {
		needs []Need
		tubes int
		want  string
	}{
		{ring, 2, "[1 1 1] 2 3"},
		{append(ring, need("d", "e")), 3, "[1 1 1 2] 2 5"},
		{[]Need{need("a"), need("b", "c")}, 2, "[1 1] 1 2"},
		{ring, 3, ""},
		{nil, 1, ""},
	} {
		got, err := CountNeeds(context.Background(), &Answer{Needs: c.needs, Minimum: Minimum{Tubes: c.tubes}})
		if err != nil {
			t.Fatal(err)
		}
		said := ""
		if got != nil {
			said = fmt.Sprint(got.Times, got.MostOfOne, got.Sum)
		}
		if said != c.want {
			t.Errorf("%v of %d: %q, want %q", c.needs, c.tubes, said, c.want)
		}
	}
}

// What limits allow is told in the order of the catalogue, at what it costs a painter
// who owns some.
func TestAllowed(t *testing.T) {
	s, err := NewSession(smallScene(t))
	if err != nil {
		t.Fatal(err)
	}
	got, err := s.Allowed(&Limits{Only: []string{"yellow-ochre", "titanium-white", "ivory-black"}, Never: []string{"ivory-black"}, Own: []string{"titanium-white"}})
	if err != nil || fmt.Sprint(got) != "[{titanium-white false 0} {yellow-ochre true 790}]" {
		t.Errorf("%v, %v", got, err)
	}
}
