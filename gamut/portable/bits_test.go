package portable

import (
	"encoding/binary"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"testing"
)

// Every function's bits over seeded arguments, hashed: the same on every processor
// and by every compiler. A change of the functions changes it.
func TestBitsAreTheSameEverywhere(t *testing.T) {
	const want = 0x58a30073ec923614
	rng := rand.New(rand.NewPCG(64, 754))
	sum := fnv.New64a()
	add := func(v ...float64) {
		for _, x := range v {
			if err := binary.Write(sum, binary.LittleEndian, math.Float64bits(x)); err != nil {
				t.Fatal(err)
			}
		}
	}
	for range 20000 {
		x, y := float64(20*rng.Float64())-10, float64(5*rng.Float64())
		sin, cos := Sincos(x)
		add(Exp(x), Expm1(x/4), Sinh(x), Tanh(x/4), Log(y), Log1p(y), Log2(y), Pow(y, 2.4), Pow(y, 1/2.4), Cbrt(x), Hypot(x, y), sin, cos, Atan2(x, y-2), Atan(x))
	}
	m, b := NewMatrix(12), make([]float64, 12)
	for i := range m {
		b[i] = rng.Float64()
		for j := range m {
			m[i][j] = rng.Float64() - 0.5
		}
	}
	m.Solve(b)
	add(b...)
	if got := sum.Sum64(); got != want {
		t.Errorf("%#x, want %#x", got, uint64(want))
	}
}
