package solver

import (
	"fmt"
	"math"

	"fewtubes/catalog"
	"fewtubes/gamut/set"
)

// box owns the map between tube ids and indices; indices are in catalogue order.
type box struct {
	tubes []catalog.Tube
	names *catalog.Catalogue
	index map[string]int
}

func newBox(tubes []catalog.Tube) (*box, error) {
	names, err := catalog.New(tubes)
	if err != nil {
		return nil, err
	}
	b := &box{tubes: tubes, names: names, index: map[string]int{}}
	for i := range tubes {
		b.index[tubes[i].ID] = i
	}
	return b, nil
}

// find is the set of the tubes named under a limit's key.
func (b *box) find(key string, ids []string) (set.Set, error) {
	s := set.New(len(b.tubes))
	for _, id := range ids {
		i, ok := b.index[id]
		if !ok {
			_, err := b.names.Get(id)
			return nil, fmt.Errorf("%s: %w", key, err)
		}
		s.Add(i)
	}
	return s, nil
}

// ids lists the members of a set in catalogue order.
func (b *box) ids(s set.Set) []string {
	out := []string{}
	for _, i := range s.Members() {
		out = append(out, b.tubes[i].ID)
	}
	return out
}

// checkTargets refuses targets that mean nothing.
func checkTargets(targets []Target) error {
	if len(targets) == 0 {
		return &InputError{"scene", "there is no target", "name at least one colour"}
	}
	seen := map[string]bool{}
	for _, t := range targets {
		what := fmt.Sprintf("target %q", t.Name)
		switch {
		case seen[t.Name]:
			return &InputError{what, "the name is used twice", "rename one"}
		case !t.Lab.Finite():
			return &InputError{what, "its colour is not a number", "give it again"}
		case !(t.Tolerance > 0) || math.IsInf(t.Tolerance, 0):
			return &InputError{what, fmt.Sprintf("a tolerance of %v is no distance", t.Tolerance), "write a number above 0"}
		case !(t.Area >= 0) || math.IsInf(t.Area, 0):
			return &InputError{what, fmt.Sprintf("an area of %v is no area", t.Area), "write 0 or more"}
		}
		seen[t.Name] = true
	}
	return nil
}
