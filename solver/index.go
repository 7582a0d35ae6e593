package solver

import (
	"fmt"
	"math"

	"fewtubes/catalog"
	"fewtubes/gamut/set"
)

// index owns the map between tube ids and indices; indices are in catalogue order.
type index struct {
	tubes []catalog.Tube
	names *catalog.Catalogue
	place map[string]int
}

func newIndex(tubes []catalog.Tube) (*index, error) {
	names, err := catalog.New(tubes)
	if err != nil {
		return nil, err
	}
	x := &index{tubes: tubes, names: names, place: map[string]int{}}
	for i := range tubes {
		x.place[tubes[i].ID] = i
	}
	return x, nil
}

// find is the set of the tubes named under a limit's key.
func (x *index) find(key string, ids []string) (set.Set, error) {
	s := set.New(len(x.tubes))
	for _, id := range ids {
		i, ok := x.place[id]
		if !ok {
			meant, err := x.names.Get(id)
			if err == nil { // by another name, where ids are wanted
				err = &catalog.UnknownTube{ID: id, Close: []string{meant.ID}}
			}
			return nil, &UnknownError{Limit: key, Name: id, tube: err}
		}
		s.Add(i)
	}
	return s, nil
}

// id is that of one tube.
func (x *index) id(i int) string { return x.tubes[i].ID }

// ids lists the members of a set in catalogue order.
func (x *index) ids(s set.Set) []string {
	out := []string{}
	for _, i := range s.Members() {
		out = append(out, x.tubes[i].ID)
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
