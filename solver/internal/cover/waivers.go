package cover

// Waivers are causes whose cuts need not be hit, each at a weight.
type Waivers struct {
	c   *Cover
	sum scale
}

// Waive lets causes be waived, each at its weight (>= 0). It is called once, before
// any cut that it allows to be left unhit is asked about.
func (c *Cover) Waive(causes, weights []int) *Waivers {
	c.waivers = true
	w := &Waivers{c: c, sum: newScale(weights)}
	for k, t := range causes {
		c.lits.waiver[t] = c.m.lit()
		w.sum.add(c.lits.waiver[t], weights[k])
	}
	return w
}

// AtMost is a switch under which causes of so much weight are waived at most;
// always says that no more could be.
func (w *Waivers) AtMost(most int) (s Switch, always bool) {
	l, always := w.sum.atMost(w.c.m, most)
	return Switch(l), always
}

// Weight is that of all the causes together.
func (w *Waivers) Weight() int { return w.sum.total() }
