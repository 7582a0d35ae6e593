package search

import (
	"math"

	"fewtubes/gamut/internal/kernel"
	"fewtubes/gamut/set"
)

// Where a mix may hold few paints, a better support often has no paint in common
// with a good one, and no single paint leads from one to the other. But then
// supports are few too, or few enough, and all of them are gone through.

const (
	scarce     = 3   // paints a mix up to which this is needed
	seedsFirst = 6   // of each kind, so that what comes after need not go far
	otherShare = 0.1 // scaled amount beside 1 of a pair that the other paints of its support get
	hopeful    = 5   // times the gain that a step promises is what a descent may still gain
)

// everyUpTo is the number of paints of a palette up to which all supports of so
// many paints are gone through.
func (e Effort) everyUpTo(limit int) int {
	if limit > scarce {
		return 0
	}
	return [...][scarce + 1]int{Search: {2: 60, 3: 16}, Verdict: {2: 100, 3: 30}}[e][limit]
}

// runEvery is run where supports are few enough to go through all of them.
func (w *workspace) runEvery(palette set.Set, thoroughly bool) {
	w.m.bank.collect(w, palette, seedsFirst)
	w.startFrom(w.seeds, 2*seedsFirst)
	if w.best.squared > max(farOff, w.enough) {
		w.far(palette, true)
		return
	}
	w.every(thoroughly)
}

// every goes through all supports of the palette, each descended from the sample
// of its pairs nearest to the target, with some of the other paints; thoroughly:
// from such a sample of each pair.
func (w *workspace) every(thoroughly bool) {
	defer func() { w.hope = math.Inf(1) }()
	at := w.chosen[:min(w.limit, len(w.members))]
	for i := range at {
		at[i] = i
	}
	for more := true; more && w.best.squared > w.enough; more = nextChoice(at, len(w.members)) {
		if len(at) == 2 {
			w.everySample(w.members[at[0]], w.members[at[1]])
		} else {
			w.fromPairs(at, thoroughly)
		}
	}
}

// nextChoice moves on to the next choice of places below n, in order.
func nextChoice(at []int, n int) bool {
	for i := len(at) - 1; i >= 0; i-- {
		if at[i] < n-len(at)+i {
			at[i]++
			for k := i + 1; k < len(at); k++ {
				at[k] = at[k-1] + 1
			}
			return true
		}
	}
	return false
}

// everySample descends from each sample of a pair that is nearer than its
// neighbours.
func (w *workspace) everySample(i, j int) {
	var d [len(kernel.Ratios)]float32
	w.gauge.All(&d, &w.m.bank.row(i)[j])
	for k := range d {
		if (k == 0 || d[k] < d[k-1]) && (k == len(d)-1 || d[k] <= d[k+1]) {
			w.begun(seed{first: i, second: j, at: k})
			w.chase()
		}
	}
}

// fromPairs descends from the nearest sample of the pairs of a support.
func (w *workspace) fromPairs(at []int, each bool) {
	nearest := seed{distance: float32(math.Inf(1))}
	var d [len(kernel.Ratios)]float32
	for x, i := range at {
		row := w.m.bank.row(w.members[i])
		for _, j := range at[x+1:] {
			s := seed{first: w.members[i], second: w.members[j]}
			w.gauge.All(&d, &row[s.second])
			for k := range d {
				if d[k] < d[s.at] {
					s.at = k
				}
			}
			if s.distance = d[s.at]; each {
				w.fromPair(s, at)
			} else if s.distance < nearest.distance {
				nearest = s
			}
		}
	}
	if !each {
		w.fromPair(nearest, at)
	}
}

func (w *workspace) fromPair(s seed, at []int) {
	ratio := kernel.Ratios[s.at]
	w.list, w.amount = append(w.list[:0], s.first, s.second), append(w.amount[:0], 1-ratio, ratio)
	for _, i := range at {
		if p := w.members[i]; p != s.first && p != s.second {
			w.list, w.amount = append(w.list, p), append(w.amount, otherShare)
		}
	}
	normalise(w.amount)
	w.evaluate()
	w.chase()
}

// chase descends as long as there is hope to be nearer than the best.
func (w *workspace) chase() {
	w.hope = w.best.squared
	w.descend(fullLook)
	if w.aim.Squared < w.best.squared {
		w.dropNothing()
		w.save(&w.best)
	}
}
