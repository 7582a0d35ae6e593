package doubt

import (
	"hash/fnv"
	"math/rand/v2"
)

// Source draws the standard normal terms of one tube.
type Source struct{ seed uint64 }

// NewSource is the source of the tube with this id.
func NewSource(id string) Source {
	h := fnv.New64a()
	h.Write([]byte(id))
	return Source{h.Sum64()}
}

// Standard is the n-th draw of twelve independent normal terms with standard
// deviation 1. Each is a sum of twelve uniform numbers less six, which is normal
// but for its outermost tails (beyond 3: 2.0 in 1000 instead of 2.7) and exact in
// binary, so the same everywhere.
func (s Source) Standard(n int) (z Deviation) {
	pcg := rand.NewPCG(s.seed, uint64(n))
	for i := range z {
		sum := 0.0
		for range 6 {
			u := pcg.Uint64()
			sum += float64(float64(u>>32)*0x1p-32) + float64(float64(u&0xffffffff)*0x1p-32)
		}
		z[i] = sum - 6
	}
	return z
}
