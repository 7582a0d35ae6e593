package cover

import (
	"fewtubes/gamut/set"

	"github.com/go-air/gini/z"
)

// Sum is a weighted sum over the members that occur. It serves one cover.
type Sum struct {
	scale
	weights []int // per member
	seen    int   // members of order already in the sum
}

// NewSum weighs every member, >= 0.
func NewSum(weights []int) *Sum { return &Sum{scale: newScale(weights), weights: weights} }

// NewCount weighs the members of a set one each, of so many.
func NewCount(of set.Set, members int) *Sum {
	weights := make([]int, members)
	for _, i := range of.Members() {
		weights[i] = 1
	}
	return NewSum(weights)
}

// atMost is as scale.atMost over every member that occurs so far.
func (s *Sum) atMost(l *literals, bound int) (z.Lit, bool) {
	for _, i := range l.order[s.seen:] {
		s.add(l.member[i], s.weights[i])
	}
	s.seen = len(l.order)
	return s.scale.atMost(l.m, bound)
}

// Of is the sum of the weights of a palette.
func (s *Sum) Of(palette set.Set) int {
	total := 0
	for _, i := range palette.Members() {
		total += s.weights[i]
	}
	return total
}
