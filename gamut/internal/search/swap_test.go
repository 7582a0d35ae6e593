package search

import (
	"math"
	"testing"

	"fewtubes/gamut/set"
)

// Exchanges are made on the far side of grey alone; they end no farther off, and free
// some searches that are stuck.
func TestSwap(t *testing.T) {
	_, byLimit := tubeMixers(t)
	m := byLimit[4]
	w := newWorkspace(m)
	freed, made := 0, 0
	for seed := range uint64(300) {
		palette, questions := questionsOf(m, seed, 12)
		held := set.Of(m.Len(), palette...)
		for _, q := range questions {
			w.begin(q.target, held)
			w.best.squared, w.enough, w.holds = math.Inf(1), met, nil
			w.alone()
			m.bank.collect(w, held, 3)
			w.startFrom(w.seeds, 3)
			before := w.best.squared
			w.restore(&w.best)
			beyond := w.aim.Along < 0
			w.careful = true
			if w.swap(); !beyond && w.best.squared != before || w.best.squared > before {
				t.Errorf("%v to %v: from %g to %g, beyond grey %v", palette, q.target, before, w.best.squared, beyond)
			}
			if beyond {
				made++
			}
			if math.Sqrt(w.best.squared) < math.Sqrt(before)-nearestSlack {
				freed++
			}
		}
	}
	t.Logf("%d of %d freed", freed, made)
	if freed < 5 {
		t.Error("hardly any")
	}
}
