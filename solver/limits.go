package solver

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/gamut/set"
)

// part is one limit on its own: it can explain itself and be put back.
type part struct {
	words  string
	narrow bool // it narrows what is allowed, rather than how many or which together
	apply  func(*Limits)
}

// parts takes limits apart, sorted by their words. Owning a tube is not a limit.
func (l *Limits) parts() []part {
	var out []part
	put := func(words string, apply func(*Limits)) { out = append(out, part{words, false, apply}) }
	narrow := func(words string, apply func(*Limits)) { out = append(out, part{words, true, apply}) }
	if l.MaxTubes > 0 {
		put(maxTubesWords(l.MaxTubes), func(x *Limits) { x.MaxTubes = l.MaxTubes })
	}
	if most, bounded := l.Budget.Most(); bounded {
		put(budgetWords(most), func(x *Limits) { x.Budget = l.Budget })
	}
	for _, class := range l.Avoid {
		narrow("avoid "+class, func(x *Limits) { x.Avoid = append(x.Avoid, class) })
	}
	for _, id := range l.Keep {
		put(keepWords(id), func(x *Limits) { x.Keep = append(x.Keep, id) })
	}
	for _, id := range l.Never {
		narrow("never "+id, func(x *Limits) { x.Never = append(x.Never, id) })
	}
	if len(l.Only) > 0 {
		narrow("only "+strings.Join(l.Only, ", "), func(x *Limits) { x.Only = l.Only })
	}
	for _, group := range l.AtMostOne {
		put(groupWords(group), func(x *Limits) { x.AtMostOne = append(x.AtMostOne, group) })
	}
	slices.SortFunc(out, func(a, b part) int { return cmp.Compare(a.words, b.words) })
	return slices.CompactFunc(out, func(a, b part) bool { return a.words == b.words })
}

// assemble puts parts together again; own is kept as it was.
func assemble(parts []part, own []string) Limits {
	l := Limits{Own: own}
	for _, p := range parts {
		p.apply(&l)
	}
	return l
}

func maxTubesWords(n int) string {
	if n == 1 {
		return "at most 1 tube"
	}
	return fmt.Sprintf("at most %d tubes", n)
}

func budgetWords(hundredths int) string {
	return fmt.Sprintf("a budget of %d.%02d", hundredths/100, hundredths%100)
}

func keepWords(id string) string { return "keep " + id }

func groupWords(ids []string) string { return "at most one of " + strings.Join(ids, ", ") }

// rules are limits over tube indices, checked against the catalogue.
type rules struct {
	allowed  set.Set // not avoided, not never, within only
	keep     set.Set
	groups   []set.Set // at most one tube of each
	words    []string  // of each group
	maxTubes int       // 0: no limit
	budget   Budget
	prices   []int // per tube; 0 for one that is owned
}

// rules looks the limits up in the catalogue. Errors are *UnknownError,
// *catalog.UnknownTube wrapped by the limit's key, or *ContradictionError.
func (b *box) rules(l *Limits) (*rules, error) {
	r := &rules{maxTubes: l.MaxTubes, budget: l.Budget, prices: make([]int, len(b.tubes))}
	var err error
	var never, only, own set.Set
	find := func(key string, ids []string) set.Set {
		held, e := b.find(key, ids)
		err = cmp.Or(err, e)
		return held
	}
	r.keep, never, only, own = find("keep", l.Keep), find("never", l.Never), find("only", l.Only), find("own", l.Own)
	for _, group := range l.AtMostOne {
		r.groups = append(r.groups, find("at-most-one", group))
		r.words = append(r.words, groupWords(group))
	}
	for _, class := range l.Avoid {
		err = cmp.Or(err, checkClass(class))
	}
	if err != nil {
		return nil, err
	}
	r.allowed = set.New(len(b.tubes))
	for i := range b.tubes {
		t := &b.tubes[i]
		if !own.Has(i) && !t.Have {
			r.prices[i] = t.Price
		}
		avoided := slices.ContainsFunc(l.Avoid, t.InClass)
		if !avoided && !never.Has(i) && (len(l.Only) == 0 || only.Has(i)) {
			r.allowed.Add(i)
		}
	}
	return r, b.checkTogether(l, r)
}

func checkClass(class string) error {
	if slices.Contains(catalog.Classes(), class) {
		return nil
	}
	e := &UnknownError{Limit: "avoid", Name: class, Kind: "class"}
	for _, c := range catalog.Classes() {
		if strings.HasPrefix(c, strings.ToLower(class[:min(len(class), 4)])) {
			e.Similar = c
			break
		}
	}
	return e
}

// checkTogether finds limits that no palette at all can keep.
func (b *box) checkTogether(l *Limits, r *rules) error {
	no := func(msg string, limits ...string) error {
		slices.Sort(limits)
		return &ContradictionError{slices.Compact(limits), msg}
	}
	cost := 0
	for _, i := range r.keep.Members() {
		id := b.tubes[i].ID
		cost += r.prices[i]
		switch {
		case slices.Contains(l.Never, id):
			return no("leave the tube out of one of them", keepWords(id), "never "+id)
		case len(l.Only) > 0 && !slices.Contains(l.Only, id):
			return no("add the tube to only or do not keep it", keepWords(id), "only "+strings.Join(l.Only, ", "))
		case !r.allowed.Has(i):
			class := l.Avoid[slices.IndexFunc(l.Avoid, b.tubes[i].InClass)]
			return no("the tube is of that class", keepWords(id), "avoid "+class)
		}
	}
	kept := make([]string, len(l.Keep))
	for i, id := range l.Keep {
		kept[i] = keepWords(id)
	}
	switch n := r.keep.Len(); {
	case r.maxTubes > 0 && n > r.maxTubes:
		return no(fmt.Sprintf("%d tubes are to be kept", n), append(kept, maxTubesWords(r.maxTubes))...)
	case !r.budget.allows(cost):
		return no(fmt.Sprintf("the tubes kept cost %d.%02d", cost/100, cost%100), append(kept, budgetWords(r.budget.most))...)
	}
	for g, group := range r.groups {
		var both []string
		for _, i := range group.Members() {
			if r.keep.Has(i) {
				both = append(both, keepWords(b.tubes[i].ID))
			}
		}
		if len(both) > 1 {
			return no("keep one of the group", append(both, r.words[g])...)
		}
	}
	return b.checkAnyLeft(l, r, no)
}

// checkAnyLeft finds limits that leave no tube to choose or to pay for.
func (b *box) checkAnyLeft(l *Limits, r *rules, no func(string, ...string) error) error {
	cheapest := -1
	for _, i := range r.allowed.Members() {
		if cheapest < 0 || r.prices[i] < cheapest {
			cheapest = r.prices[i]
		}
	}
	var words []string
	for _, p := range l.parts() {
		words = append(words, p.words)
	}
	switch {
	case cheapest < 0:
		return no("they leave no tube at all", words...)
	case !r.budget.allows(cheapest):
		return no(fmt.Sprintf("the cheapest tube allowed costs %d.%02d", cheapest/100, cheapest%100), words...)
	}
	return nil
}

// distinct is a sorted copy without repetitions.
func distinct(words []string) []string {
	out := slices.Clone(words)
	slices.Sort(out)
	return slices.Compact(out)
}
