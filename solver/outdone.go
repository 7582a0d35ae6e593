package solver

import (
	"cmp"
	"fewtubes/gamut/set"
	"slices"
)

// rank is what tubes are compared by under one question.
type rank struct {
	tubes   []int     // that stand in a cut or are to be kept, ascending
	cuts    []set.Set // per tube: the cuts it stands in
	hits    []int     // how many
	against []set.Set // per tube: the groups and blocked palettes it stands in
	sums    []bound
}

func (h *hunt) rank(q *question, active []*cut) *rank {
	n := len(h.lits.tube)
	r := &rank{cuts: make([]set.Set, n), hits: make([]int, n), against: make([]set.Set, n), sums: h.sums(q)}
	limits := append(slices.Clone(h.rules.groups), h.blocked...)
	occur := h.rules.keep.Clone()
	for _, c := range active {
		occur = set.Union(occur, c.oneOf)
	}
	r.tubes = occur.Members()
	for _, i := range r.tubes {
		r.cuts[i], r.against[i] = set.New(len(active)), set.New(len(limits))
		for l, held := range limits {
			if held.Has(i) {
				r.against[i].Add(l)
			}
		}
	}
	for c, cut := range active {
		for _, i := range cut.oneOf.Members() {
			r.cuts[i].Add(c)
			r.hits[i]++
		}
	}
	return r
}

// sums are the sums that a question and the limits bound.
func (h *hunt) sums(q *question) []bound {
	var out []bound
	if most, bounded := h.rules.budget.Most(); bounded {
		out = append(out, bound{h.price, most})
	}
	return append(out, q.bounds...)
}

// part divides the tubes into those that may have to be chosen and those outdone,
// which a palette never needs: some other tube stands in every cut that they do,
// weighs no more in any sum that is bounded, is in no group and no blocked palette
// that they are not in, and so can take their place in any palette. What holds for
// all cuts here holds for any part of them, so a proof needs no more cuts for it.
// Both are ascending.
func (r *rank) part(keep set.Set) (best, outdone []int) {
	order := slices.Clone(r.tubes)
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Or(cmp.Compare(r.hits[j], r.hits[i]), cmp.Compare(r.load(i), r.load(j)))
	})
	for _, tube := range order {
		if !keep.Has(tube) && slices.ContainsFunc(best, func(b int) bool { return r.serves(b, tube) }) {
			outdone = append(outdone, tube)
		} else {
			best = append(best, tube)
		}
	}
	slices.Sort(best)
	slices.Sort(outdone)
	return best, outdone
}

// load is what a tube weighs in all sums together.
func (r *rank) load(tube int) int {
	total := 0
	for _, b := range r.sums {
		total += b.sum.weights[tube]
	}
	return total
}

// serves reports whether one tube can take the place of another.
func (r *rank) serves(tube, other int) bool {
	for _, b := range r.sums {
		if b.sum.weights[tube] > b.sum.weights[other] {
			return false
		}
	}
	return r.cuts[other].SubsetOf(r.cuts[tube]) && r.against[tube].SubsetOf(r.against[other])
}
