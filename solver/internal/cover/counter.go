package cover

import "github.com/go-air/gini/z"

// counter adds up the weights of true literals in unary (Sinz, "Towards an Optimal CNF
// Encoding of Boolean Cardinality Constraints", CP 2005, section 2, each literal in as
// many columns as it weighs), one row per literal and one column per sum. Rows and
// columns are added as they are asked for, so that the size stays literals times
// the largest bound.
type counter struct {
	lits    []z.Lit
	weights []int     // >= 1
	total   int       // of all weights
	rows    [][]z.Lit // rows[i][j]: the first i+1 literals weigh more than j
	totals  []int     // of the weights of the first i+1
}

// add weighs one more literal from now on.
func (c *counter) add(l z.Lit, weight int) {
	c.total += weight
	c.lits, c.weights, c.totals = append(c.lits, l), append(c.weights, weight), append(c.totals, c.total)
}

// atMost is a literal under which the true ones of the literals so far weigh at most
// k (>= 0). It says nothing about literals added later.
func (c *counter) atMost(m *master, k int) (l z.Lit, always bool) {
	if k >= c.total {
		return z.LitNull, true
	}
	for i := range c.lits {
		if i == len(c.rows) {
			c.rows = append(c.rows, nil)
		}
		for j := len(c.rows[i]); j < min(c.totals[i], k+1); j++ {
			c.rows[i] = append(c.rows[i], c.cell(m, i, j))
		}
	}
	return c.rows[len(c.lits)-1][k].Not(), false
}

// cell defines rows[i][j] in the one direction that a bound from above needs.
func (c *counter) cell(m *master, i, j int) z.Lit {
	more := m.lit()
	if i > 0 && j < c.totals[i-1] {
		m.clause(c.rows[i-1][j].Not(), more)
	}
	switch w := c.weights[i]; {
	case j < w:
		m.clause(c.lits[i].Not(), more)
	default:
		m.clause(c.lits[i].Not(), c.rows[i-1][j-w].Not(), more)
	}
	return more
}
