package cover

import "github.com/go-air/gini/z"

// mostCells is how large a sum in unary may be: literals times the bound.
const mostCells = 60_000

// scale is a weighted sum of literals. In unary the solver sees at once which of them
// a bound still allows, in binary only when nearly all are decided; but in unary the
// size grows with the bound. So it is unary as far as it can be.
type scale struct {
	unary  counter
	binary adder
	lits   []z.Lit
	taken  int // of them by binary
	weighs []int
}

func newScale(weights []int) scale { return scale{binary: adder{unit: unitOf(weights)}} }

// add takes a literal of some weight, >= 0, into the sum.
func (s *scale) add(l z.Lit, weight int) {
	if weight > 0 {
		s.unary.add(l, weight/s.binary.unit)
		s.lits, s.weighs = append(s.lits, l), append(s.weighs, weight)
	}
}

// total is the largest value there is.
func (s *scale) total() int { return s.unary.total * s.binary.unit }

// atMost is a literal under which the sum is at most the bound, >= 0; always says
// that no sum can be more. It says nothing about literals added later.
func (s *scale) atMost(m *master, bound int) (l z.Lit, always bool) {
	if most := bound / s.binary.unit; most*len(s.lits) <= mostCells {
		return s.unary.atMost(m, most)
	}
	if s.taken < len(s.lits) {
		s.binary.add(m, s.lits[s.taken:], s.weighs[s.taken:])
		s.taken = len(s.lits)
	}
	return s.binary.atMost(m, bound)
}
