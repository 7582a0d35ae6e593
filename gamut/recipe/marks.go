package recipe

import "math/bits"

// marks is a set of goals.
type marks []uint64

func newMarks(n int) marks { return make(marks, (n+63)/64) }

func (m marks) has(t int) bool { return len(m) > 0 && m[t/64]>>(t%64)&1 == 1 }

func (m marks) add(t int) { m[t/64] |= 1 << (t % 64) }

// join adds what is in other, which may be nil.
func (m marks) join(other marks) {
	for i, w := range other {
		m[i] |= w
	}
}

// drop takes away what is in other, which may be nil.
func (m marks) drop(other marks) {
	for i, w := range other {
		m[i] &^= w
	}
}

func (m marks) count() (n int) {
	for _, w := range m {
		n += bits.OnesCount64(w)
	}
	return n
}
