// Package set holds sets of small whole numbers, such as the places of tubes in a
// catalogue, and their algebra.
package set

import (
	"math/bits"
	"slices"
)

// Set is a set of indices, 64 to a word. The zero value is empty; sets that are
// compared or combined come from New, Full or Of with the same n.
type Set []uint64

// New is an empty set with room for indices 0..n-1.
func New(n int) Set { return make(Set, (n+63)/64) }

// Full holds every index 0..n-1.
func Full(n int) Set {
	s := New(n)
	for i := range n {
		s.Add(i)
	}
	return s
}

// Of holds the given indices, each below n.
func Of(n int, indices ...int) Set {
	s := New(n)
	for _, i := range indices {
		s.Add(i)
	}
	return s
}

// Add puts i in the set; i must fit the room it was made with.
func (s Set) Add(i int) { s[i>>6] |= 1 << (i & 63) }

// Remove takes i out of the set.
func (s Set) Remove(i int) { s[i>>6] &^= 1 << (i & 63) }

// Has reports whether i is in the set.
func (s Set) Has(i int) bool { return i>>6 < len(s) && s[i>>6]&(1<<(i&63)) != 0 }

// Len counts the members.
func (s Set) Len() int {
	n := 0
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}

// Members lists the indices in ascending order.
func (s Set) Members() []int { return s.AppendMembers(make([]int, 0, s.Len())) }

// AppendMembers appends the indices in ascending order.
func (s Set) AppendMembers(out []int) []int {
	for w, word := range s {
		for ; word != 0; word &= word - 1 {
			out = append(out, w<<6+bits.TrailingZeros64(word))
		}
	}
	return out
}

// Clone is an independent copy.
func (s Set) Clone() Set { return append(Set(nil), s...) }

// Unite puts the members of t in s.
func (s Set) Unite(t Set) {
	for i, w := range t {
		s[i] |= w
	}
}

// Subtract takes the members of t out of s.
func (s Set) Subtract(t Set) {
	for i, w := range t {
		s[i] &^= w
	}
}

// Restrict takes out of s what is not in t.
func (s Set) Restrict(t Set) {
	for i, w := range t {
		s[i] &= w
	}
}

// SubsetOf reports whether every member of s is in t.
func (s Set) SubsetOf(t Set) bool {
	for i, w := range s {
		if w&^t[i] != 0 {
			return false
		}
	}
	return true
}

// Meets reports whether s and t share a member.
func (s Set) Meets(t Set) bool {
	for i, w := range s {
		if w&t[i] != 0 {
			return true
		}
	}
	return false
}

// Equal reports whether s and t have the same members.
func (s Set) Equal(t Set) bool { return slices.Equal(s, t) }

// Union holds the members of either.
func Union(a, b Set) Set {
	out := a.Clone()
	out.Unite(b)
	return out
}

// Minus holds the members of a that are not in b.
func Minus(a, b Set) Set {
	out := a.Clone()
	out.Subtract(b)
	return out
}

// Intersection holds the members of both.
func Intersection(a, b Set) Set {
	out := a.Clone()
	out.Restrict(b)
	return out
}
