package cover

import (
	"math/bits"

	"github.com/go-air/gini/z"
)

// adder is a weighted sum of literals as a binary number, built of full and half
// adders (Eén and Sörensson, "Translating Pseudo-Boolean Constraints into SAT",
// JSAT 2, 2006, section 5.3). Its size is linear in the literals and in the
// digits of the weights, whatever the bound, and one sum serves every bound.
// Weights are counted in a unit that divides all of them: of prices in whole tens
// the solver sees fewer digits, and through them much sooner.
type adder struct {
	unit   int     // >= 1
	digits []z.Lit // in units, least first; LitNull is 0
	total  int     // of all weights, the largest value there is
}

// unitOf is the largest number that divides every weight; 1 where all are 0.
func unitOf(weights []int) int {
	unit := 0
	for _, w := range weights {
		for w > 0 {
			unit, w = w, unit%w
		}
	}
	return max(1, unit)
}

// add takes weighted literals into the sum; weights are >= 0.
func (s *adder) add(m *master, lits []z.Lit, weights []int) {
	var columns [][]z.Lit
	put := func(digit int, l z.Lit) {
		for len(columns) <= digit {
			columns = append(columns, nil)
		}
		columns[digit] = append(columns[digit], l)
	}
	for d, l := range s.digits {
		if l != z.LitNull {
			put(d, l)
		}
	}
	for i, l := range lits {
		s.total += weights[i]
		for w := uint(weights[i] / s.unit); w != 0; w &= w - 1 {
			put(bits.TrailingZeros(w), l)
		}
	}
	s.digits = s.digits[:0]
	for d := 0; d < len(columns); d++ {
		for len(columns[d]) > 1 {
			one, two := columns[d][0], columns[d][1]
			if rest := columns[d][2:]; len(rest) > 0 {
				digit, carry := fullAdder(m, one, two, rest[0])
				columns[d] = append(rest[1:], digit)
				put(d+1, carry)
				continue
			}
			digit, carry := halfAdder(m, one, two)
			columns[d] = append(columns[d][:0], digit)
			put(d+1, carry)
		}
		digit := z.LitNull
		if len(columns[d]) == 1 {
			digit = columns[d][0]
		}
		s.digits = append(s.digits, digit)
	}
}

// atMost is a literal under which the sum is at most the bound; always says
// that no sum can be more. The bound is >= 0.
func (s *adder) atMost(m *master, bound int) (l z.Lit, always bool) {
	if bound >= s.total {
		return z.LitNull, true
	}
	bound /= s.unit
	guard := m.lit()
	// Greater means: some digit 1 where the bound has 0, and every higher digit
	// of the bound matched.
	for d, digit := range s.digits {
		if digit == z.LitNull || bound>>d&1 == 1 {
			continue
		}
		clause := []z.Lit{guard.Not(), digit.Not()}
		met := true
		for e := d + 1; e < len(s.digits); e++ {
			if bound>>e&1 == 0 {
				continue
			}
			if s.digits[e] == z.LitNull {
				met = false // the sum lacks a higher digit: it is less already
				break
			}
			clause = append(clause, s.digits[e].Not())
		}
		if met && bound>>len(s.digits) == 0 {
			m.clause(clause...)
		}
	}
	return guard, false
}

// halfAdder adds two digits: one is the exclusive or, the other the and.
func halfAdder(m *master, a, b z.Lit) (digit, carry z.Lit) {
	digit, carry = m.lit(), m.lit()
	m.clause(a.Not(), b.Not(), carry)
	m.clause(a, carry.Not())
	m.clause(b, carry.Not())
	m.clause(a.Not(), b, digit)
	m.clause(a, b.Not(), digit)
	m.clause(a, b, digit.Not())
	m.clause(a.Not(), b.Not(), digit.Not())
	return digit, carry
}

// fullAdder adds three digits: the parity and the majority.
func fullAdder(m *master, a, b, c z.Lit) (digit, carry z.Lit) {
	digit, carry = m.lit(), m.lit()
	m.clause(a.Not(), b.Not(), carry)
	m.clause(a.Not(), c.Not(), carry)
	m.clause(b.Not(), c.Not(), carry)
	m.clause(a, b, carry.Not())
	m.clause(a, c, carry.Not())
	m.clause(b, c, carry.Not())
	m.clause(a.Not(), b.Not(), c.Not(), digit)
	m.clause(a.Not(), b, c, digit)
	m.clause(a, b.Not(), c, digit)
	m.clause(a, b, c.Not(), digit)
	m.clause(a, b, c, digit.Not())
	m.clause(a, b.Not(), c.Not(), digit.Not())
	m.clause(a.Not(), b, c.Not(), digit.Not())
	m.clause(a.Not(), b.Not(), c, digit.Not())
	return digit, carry
}
