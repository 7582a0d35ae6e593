package main

import (
	"errors"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/solver"
)

// checkLimits finds limits that name tubes or classes nobody knows, or that
// leave a tube to be kept out of the question.
func checkLimits(l *solver.Limits, tubes *catalog.Catalogue) error {
	lists := []struct {
		name string
		ids  []string
	}{{"keep", l.Keep}, {"never", l.Never}, {"only", l.Only}, {"own", l.Own}, {"at-most-one", slices.Concat(l.AtMostOne...)}}
	for _, list := range lists {
		for _, id := range list.ids {
			if err := checkID(list.name, id, tubes); err != nil {
				return err
			}
		}
	}
	for _, class := range l.Avoid {
		if !slices.Contains(catalog.Classes(), class) {
			return userError("avoid: no class %q%s; the classes are %s", class, nearest(class, catalog.Classes()), strings.Join(catalog.Classes(), ", "))
		}
	}
	for _, id := range l.Keep {
		t, _ := tubes.Find(id)
		for _, class := range l.Avoid {
			if t.InClass(class) {
				return userError("keep: %q is to be kept, but it is in the class %q to avoid; remove one of the two", id, class)
			}
		}
	}
	return nil
}

func checkID(list, id string, tubes *catalog.Catalogue) error {
	_, err := tubes.Get(id)
	var unknown *catalog.UnknownTube
	if !errors.As(err, &unknown) {
		return err
	}
	return userError("%s: %w (fewtubes tubes lists them)", list, err)
}
