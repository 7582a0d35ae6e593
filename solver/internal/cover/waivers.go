package cover

import "github.com/go-air/gini/z"

// Waivers are causes whose cuts need not be hit, each at a weight.
type Waivers struct {
	c       *Cover
	sum     scale
	weights []int // of causes that join; nil: one each
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

// WaiveMany is Waive for causes that weigh one each, or as the weights of all causes
// say, counted as they join a joint one.
func (c *Cover) WaiveMany(weights []int) *Waivers {
	c.waivers = true
	unit := weights
	if unit == nil {
		unit = []int{1}
	}
	return &Waivers{c: c, sum: newScale(unit), weights: weights}
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
		weight := 1
		if w.weights != nil {
			weight = w.weights[cause]
		}
		w.sum.add(l.waiver[cause], weight)
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
