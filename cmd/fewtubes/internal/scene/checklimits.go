package scene

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/plain"
)

// checkLimits finds limits that make no sense or that no palette can keep
// together. What depends on the catalogue (prices, hazards, which tube a name means)
// is not seen here.
func (s *Scene) checkLimits() error {
	l := &s.Limits
	switch {
	case l.MaxTubes < 0:
		return s.wrong("limits.max-tubes", fmt.Sprintf("%d tubes are no palette", l.MaxTubes), "write 1 or more")
	case l.PaintsPerMix < 0:
		return s.wrong("limits.paints-per-mix", fmt.Sprintf("%d paints are no mix", l.PaintsPerMix), "write 1 or more")
	case l.Budget != nil && !(*l.Budget >= 0 && *l.Budget <= math.MaxInt32):
		return s.wrong("limits.budget", fmt.Sprintf("%v is no sum of money", *l.Budget), "write 0 or more, or leave it out for no limit")
	case l.Prefer != "" && !slices.Contains(preferences, l.Prefer):
		return s.wrong("limits.prefer", fmt.Sprintf("unknown preference %q", plain.Short(string(l.Prefer))), "use usual, accuracy, price, hazards, lightfastness or holds")
	}
	for _, list := range []struct {
		key string
		ids []string
	}{{"avoid", l.Avoid}, {"keep", l.Keep}, {"never", l.Never}, {"only", l.Only}, {"own", l.Own}} {
		if slices.ContainsFunc(list.ids, func(id string) bool { return strings.TrimSpace(id) == "" }) {
			return s.wrong("limits."+list.key, "an entry is empty", "remove it")
		}
	}
	return s.checkContradictions()
}

func (s *Scene) checkContradictions() error {
	l := &s.Limits
	keep, kept, never, only := distinct(l.Keep), setOf(l.Keep), setOf(l.Never), setOf(l.Only)
	known := areIDs(l.Only)
	for _, id := range keep {
		switch {
		case never[id]:
			return s.wrong("limits.never", fmt.Sprintf("%q is under keep and under never", plain.Short(id)), "remove it from one")
		case len(only) > 0 && !only[id] && known && areIDs([]string{id}):
			return s.wrong("limits.only", fmt.Sprintf("%q is under keep but not under only", plain.Short(id)), "add it there or remove it from keep")
		}
	}
	if l.MaxTubes > 0 && len(keep) > l.MaxTubes && areIDs(keep) {
		return s.wrong("limits.max-tubes", fmt.Sprintf("%d tubes are to be kept but at most %d allowed", len(keep), l.MaxTubes), "raise max-tubes or keep fewer")
	}
	if left := slices.DeleteFunc(distinct(l.Only), func(id string) bool { return never[id] }); len(l.Only) > 0 && len(left) == 0 {
		return s.wrong("limits.never", "every tube under only is also under never", "allow at least one tube")
	}
	for _, group := range l.AtMostOne {
		both := slices.DeleteFunc(distinct(group), func(id string) bool { return !kept[id] })
		if len(both) > 1 && areIDs(both) {
			return s.wrong("limits.at-most-one", fmt.Sprintf("%q and %q are both under keep", plain.Short(both[0]), plain.Short(both[1])), "keep one of the group")
		}
	}
	return nil
}

// areIDs reports whether all names are ids of the catalogue, so that two that differ
// are two tubes.
func areIDs(names []string) bool {
	builtin, err := catalog.Builtin()
	return err == nil && !slices.ContainsFunc(names, func(name string) bool {
		_, ok := builtin.Find(name)
		return !ok
	})
}

func setOf(ids []string) map[string]bool {
	out := make(map[string]bool, len(ids))
	for _, id := range ids {
		out[id] = true
	}
	return out
}

// distinct is a sorted copy without repetitions.
func distinct(ids []string) []string {
	out := slices.Clone(ids)
	slices.Sort(out)
	return slices.Compact(out)
}
