package solver

import "fewtubes/gamut/set"

// subsets are all sets of 0..n-1.
func subsets(n int) []set.Set {
	var out []set.Set
	for bits := range 1 << n {
		s := set.New(n)
		s[0] = uint64(bits)
		out = append(out, s)
	}
	return out
}
