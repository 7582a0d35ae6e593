package cover

import "github.com/go-air/gini/z"

// counter counts true literals in unary (Sinz, "Towards an Optimal CNF Encoding
// of Boolean Cardinality Constraints", CP 2005, section 2), one row per literal
// and one column per count. Rows and columns are added as they are asked for,
// so that the size stays literals times the largest bound.
type counter struct {
	lits []z.Lit
	rows [][]z.Lit // rows[i][j]: more than j of the first i+1 literals are true
}

// add counts one more literal from now on.
func (c *counter) add(l z.Lit) { c.lits = append(c.lits, l) }

// atMost is a literal under which at most k (>= 0) of the literals so far are true.
// It says nothing about literals added later.
func (c *counter) atMost(m *master, k int) (l z.Lit, always bool) {
	if k >= len(c.lits) {
		return z.LitNull, true
	}
	for i := range c.lits {
		if i == len(c.rows) {
			c.rows = append(c.rows, nil)
		}
		for j := len(c.rows[i]); j <= min(i, k); j++ {
			c.rows[i] = append(c.rows[i], c.cell(m, i, j))
		}
	}
	return c.rows[len(c.lits)-1][k].Not(), false
}

// cell defines rows[i][j] in the one direction that a bound from above needs.
func (c *counter) cell(m *master, i, j int) z.Lit {
	more := m.lit()
	if j < i {
		m.clause(c.rows[i-1][j].Not(), more)
	}
	switch {
	case j == 0:
		m.clause(c.lits[i].Not(), more)
	default:
		m.clause(c.lits[i].Not(), c.rows[i-1][j-1].Not(), more)
	}
	return more
}
