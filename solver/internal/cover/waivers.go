package cover

import "github.com/go-air/gini/z"

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

// WaiveMany is Waive for causes that weigh one each, counted one by one as they join a
// joint one.
func (c *Cover) WaiveMany() *Waivers {
	c.waivers = true
	return &Waivers{c: c, sum: newScale([]int{1})}
}

// Joint is a new cause: to waive it is to waive all those that Join adds to it.
func (w *Waivers) Joint() (cause int) {
	l := w.c.lits
	l.waiver = append(l.waiver, w.c.m.lit())
	return len(l.waiver) - 1
}

// Join adds a cause that counts to a joint one.
func (w *Waivers) Join(joint, cause int) {
	l, m := w.c.lits, w.c.m
	if l.waiver[cause] == z.LitNull {
		l.waiver[cause] = m.lit()
		w.sum.add(l.waiver[cause], 1)
	}
	m.clause(l.waiver[joint].Not(), l.waiver[cause])
}

// AtMost is a switch under which causes of so much weight are waived at most;
// always says that no more could be.
func (w *Waivers) AtMost(most int) (s Switch, always bool) {
	l, always := w.sum.atMost(w.c.m, most)
	return Switch(l), always
}

// Weight is that of all the causes together.
func (w *Waivers) Weight() int { return w.sum.total() }
