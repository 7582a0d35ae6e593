package solver

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
)

// LimitKind is what a limit does.
type LimitKind int

const (
	MostTubes   LimitKind = iota + 1 // so many tubes at most
	MostSpent                        // so many hundredths at most
	AvoidClass                       // no tube of these classes
	KeepTube                         // these tubes
	NeverTube                        // not these
	OnlyTubes                        // these and no others
	AtMostOneOf                      // of these tubes one at most
)

// Limit is one limit as data.
type Limit struct {
	Kind  LimitKind
	Most  int      // tubes, or hundredths
	Names []string // ids or classes
}

// String is the limit in words: the one place that has them.
func (l Limit) String() string {
	names := strings.Join(l.Names, ", ")
	switch l.Kind {
	case MostTubes:
		if l.Most == 1 {
			return "at most 1 tube"
		}
		return fmt.Sprintf("at most %d tubes", l.Most)
	case MostSpent:
		return "a budget of " + money(l.Most)
	case AvoidClass:
		return "avoid " + names
	case KeepTube:
		return "keep " + names
	case NeverTube:
		return "never " + names
	case OnlyTubes:
		return "only " + names
	case AtMostOneOf:
		return "at most one of " + names
	}
	return "a limit of no kind"
}

// all are the limits one by one. Owning a tube is not a limit.
func (l *Limits) all() (out []Limit) {
	if l.MaxTubes > 0 {
		out = append(out, Limit{Kind: MostTubes, Most: l.MaxTubes})
	}
	if most, bounded := l.Budget.Most(); bounded {
		out = append(out, Limit{Kind: MostSpent, Most: most})
	}
	for _, id := range l.Keep {
		out = append(out, Limit{Kind: KeepTube, Names: []string{id}})
	}
	for _, id := range l.Never {
		out = append(out, Limit{Kind: NeverTube, Names: []string{id}})
	}
	if len(l.Only) > 0 {
		out = append(out, Limit{Kind: OnlyTubes, Names: l.Only})
	}
	for _, group := range l.AtMostOne {
		out = append(out, Limit{Kind: AtMostOneOf, Names: group})
	}
	for _, class := range l.Avoid {
		out = append(out, Limit{Kind: AvoidClass, Names: []string{class}})
	}
	return out
}

// keys are the names that scenes and command lines give to kinds of limits.
var keys = map[LimitKind]string{
	MostTubes: "max-tubes", MostSpent: "budget", AvoidClass: "avoid", KeepTube: "keep",
	NeverTube: "never", OnlyTubes: "only", AtMostOneOf: "at-most-one",
}

// kindOf is how the choice sees a kind of limit.
var kindOf = map[LimitKind]choice.Kind{
	MostTubes: choice.MostTubes, MostSpent: choice.Budget, AvoidClass: choice.Forbid, KeepTube: choice.Keep,
	NeverTube: choice.Forbid, OnlyTubes: choice.Only, AtMostOneOf: choice.Group,
}

// limits looks limits up in the catalogue. Errors are *UnknownError.
func (x *index) limits(all []Limit) ([]choice.Limit, error) {
	words := make([]string, len(all))
	for i, l := range all {
		words[i] = l.String()
	}
	sorted := distinct(words)
	out := make([]choice.Limit, len(all))
	for i, l := range all {
		turn, _ := slices.BinarySearch(sorted, words[i])
		out[i] = choice.Limit{Kind: kindOf[l.Kind], Most: l.Most, Turn: turn}
		var err error
		if l.Kind == AvoidClass {
			out[i].Tubes, err = x.ofClass(l.Names[0])
		} else {
			out[i].Tubes, err = x.find(keys[l.Kind], l.Names)
		}
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// ofClass are the tubes of a class.
func (x *index) ofClass(class string) (set.Set, error) {
	if err := checkClass(class); err != nil {
		return nil, err
	}
	out := set.New(len(x.tubes))
	for i := range x.tubes {
		if x.tubes[i].InClass(class) {
			out.Add(i)
		}
	}
	return out, nil
}

// prices are what each tube costs a painter who owns some.
func (x *index) prices(own []string) ([]int, error) {
	owned, err := x.find("own", own)
	if err != nil {
		return nil, err
	}
	out := make([]int, len(x.tubes))
	for _, i := range x.toBuy(owned).Members() {
		out[i] = x.tubes[i].Price
	}
	return out, nil
}

// toBuy are the tubes that a painter does not own.
func (x *index) toBuy(owned set.Set) set.Set {
	out := set.Minus(set.Full(len(x.tubes)), owned)
	for i := range x.tubes {
		if x.tubes[i].Have {
			out.Remove(i)
		}
	}
	return out
}

// wish turns limits into indices, and checks that some palette keeps them. Errors
// are *UnknownError or *ContradictionError.
func (x *index) wish(l *Limits) (*choice.Wish, error) {
	limits, err := x.limits(l.all())
	if err != nil {
		return nil, err
	}
	prices, err := x.prices(l.Own)
	if err != nil {
		return nil, err
	}
	w := &choice.Wish{Limits: limits, Prices: prices}
	if l.FewestToBuy {
		owned, _ := x.find("own", l.Own)
		w.New = x.toBuy(owned)
	}
	return w, x.checkTogether(l, choice.RulesOf(len(x.tubes), limits, prices))
}

// rules are those of limits. Errors are as of wish.
func (x *index) rules(l *Limits) (*cover.Rules, error) {
	w, err := x.wish(l)
	if err != nil {
		return nil, err
	}
	r := choice.RulesOf(len(x.tubes), w.Limits, w.Prices)
	if most, known := l.toBuy.Most(); known && w.New != nil {
		r = r.WithNew(w.New, most)
	}
	return r, nil
}

func checkClass(class string) error {
	if slices.Contains(catalog.Classes(), class) {
		return nil
	}
	e := &UnknownError{Limit: "avoid", Name: class}
	for _, c := range catalog.Classes() {
		if strings.HasPrefix(c, strings.ToLower(class[:min(len(class), 4)])) {
			e.Similar = c
			break
		}
	}
	return e
}

// checkTogether finds limits that no palette at all can keep.
func (x *index) checkTogether(l *Limits, r *cover.Rules) error {
	no := func(why Contradiction, number int, limits ...Limit) error {
		byWords := func(a, b Limit) int { return cmp.Compare(a.String(), b.String()) }
		slices.SortFunc(limits, byWords)
		limits = slices.CompactFunc(limits, func(a, b Limit) bool { return byWords(a, b) == 0 })
		return &ContradictionError{limits, why, number}
	}
	of := func(kinds ...LimitKind) (out []Limit) {
		for _, limit := range l.all() {
			if slices.Contains(kinds, limit.Kind) {
				out = append(out, limit)
			}
		}
		return out
	}
	cost := 0
	for _, i := range r.Keep.Members() {
		id := x.tubes[i].ID
		kept := Limit{Kind: KeepTube, Names: []string{id}}
		cost += r.Weights[i]
		switch {
		case slices.Contains(l.Never, id):
			return no(KeptAndNever, 0, kept, Limit{Kind: NeverTube, Names: []string{id}})
		case len(l.Only) > 0 && !slices.Contains(l.Only, id):
			return no(KeptNotOnly, 0, append(of(OnlyTubes), kept)...)
		case !r.Allowed.Has(i):
			class := l.Avoid[slices.IndexFunc(l.Avoid, x.tubes[i].InClass)]
			return no(KeptAvoided, 0, kept, Limit{Kind: AvoidClass, Names: []string{class}})
		}
	}
	switch n := r.Keep.Len(); {
	case r.Most > 0 && n > r.Most:
		return no(TooManyKept, n, of(KeepTube, MostTubes)...)
	case !r.Affords(cost):
		return no(KeptTooDear, cost, of(KeepTube, MostSpent)...)
	}
	for g, group := range r.Groups {
		var both []Limit
		for _, i := range set.Intersection(group, r.Keep).Members() {
			both = append(both, Limit{Kind: KeepTube, Names: []string{x.tubes[i].ID}})
		}
		if len(both) > 1 {
			return no(KeptOfGroup, 0, append(both, Limit{Kind: AtMostOneOf, Names: l.AtMostOne[g]})...)
		}
	}
	// Is any tube left to choose, or to pay for?
	left := r.Allowed.Members()
	if len(left) == 0 {
		return no(NoTubeLeft, 0, l.all()...)
	}
	cheapest := slices.MinFunc(left, func(i, j int) int { return cmp.Compare(r.Weights[i], r.Weights[j]) })
	if cost := r.Weights[cheapest]; !r.Affords(cost) {
		return no(NoTubePayable, cost, l.all()...)
	}
	return nil
}

// distinct is a sorted copy without repetitions.
func distinct(words []string) []string {
	out := slices.Clone(words)
	slices.Sort(out)
	return slices.Compact(out)
}
