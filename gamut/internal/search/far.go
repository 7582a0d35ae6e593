package search

import (
	"math"
	"math/bits"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/set"
)

// Where the best mix found is far from the target, the difference is no bowl. Starts
// are then chosen by the difference itself (along.go), searches go by way of grey
// (detour.go), and descents take care (descentfar.go).

const (
	farStarts = 12    // dips that are settled from
	farPairs  = 24    // paints of a palette up to which all their pairs are followed
	asLow     = 1.001 // a dip that is lower than the best or as low, squared
	sameGrey  = 1     // L* by which two greys differ
)

// thirdShares are the amounts of a third paint that a dip is left with, as otherShare is:
// either may lead over the edge where the other does not.
var thirdShares = [...]float64{otherShare, otherShare / 10}

// pairLook is what following a pair has shown.
type pairLook struct {
	from, to    int     // its dips, places in w.dips
	sectors     uint32  // of hue, that it passes through
	greyest     float64 // ratio of the least chroma
	chroma      float64 // squared
	dark, light float64 // L*
}

// far looks for nearer mixes of a far target; each: of all supports of three paints.
func (w *workspace) far(palette set.Set, each bool) {
	w.careful = true
	w.chooseGreys()
	w.followPairs(w.spanning(palette, each))
	for k := range w.dips {
		if d := &w.dips[k]; d.squared < asLow*w.best.squared {
			w.fromDip(d)
			w.descend(fullLook)
			w.dropNothing()
			w.keepBetter(0)
		}
	}
	switch {
	case min(w.limit, len(w.members)) == 2:
	case each:
		w.farTriples()
	default:
		w.detour()
		for k := range min(farStarts, len(w.dips)) {
			lowestFirst(w.dips[k:])
			w.fromDip(&w.dips[k])
			w.settle()
			w.keepBetter(0)
			for _, p := range w.members {
				if w.alongEdge(&w.dips[k], p) {
					w.settle()
					w.keepBetter(0)
				}
			}
		}
	}
}

// spanning are the paints whose pairs are followed: all of a small palette.
func (w *workspace) spanning(palette set.Set, each bool) []int {
	if each || len(w.members) <= farPairs {
		return w.members
	}
	w.hubs = w.hubs[:0]
	for _, i := range w.m.bank.rank() {
		if palette.Has(i) && len(w.hubs) < hubs {
			w.hubs = append(w.hubs, i)
		}
	}
	return w.hubs
}

func (w *workspace) followPairs(members []int) {
	w.pairs, w.dips = w.pairs[:0], w.dips[:0]
	for x, i := range members {
		for _, j := range members[x+1:] {
			w.follow(i, j)
			p := pairLook{from: len(w.dips), chroma: math.Inf(1), dark: math.Inf(1)}
			for k := range w.samples {
				p.add(&w.samples[k])
			}
			if p.chroma < (grey+1)*(grey+1) {
				p.sectors = math.MaxUint32
			}
			w.findDips(i, j)
			p.to = len(w.dips)
			w.pairs = append(w.pairs, p)
		}
	}
}

func (p *pairLook) add(s *sample) {
	p.sectors |= 1 << sector(s.lab)
	p.dark, p.light = min(p.dark, s.lab.L), max(p.light, s.lab.L)
	if c := chromaSquared(s.lab); c < p.chroma {
		p.chroma, p.greyest = c, s.ratio
	}
}

// sector is one of 32 parts of the hue circle, opposite to the one 16 before or after.
func sector(c colour.Lab) int {
	x, y := math.Abs(c.A), math.Abs(c.B)
	part := min(int(8*y/(x+y+math.SmallestNonzeroFloat64)), 7)
	if c.A < 0 {
		part = 15 - part
	}
	if c.B < 0 {
		part = 31 - part
	}
	return part
}

// surround reports whether sectors leave no gap of half the circle.
func surround(sectors uint32) bool {
	for range 32 {
		if sectors = bits.RotateLeft32(sectors, 1); sectors&0x7fff == 0 {
			return false
		}
	}
	return true
}

func lowestFirst(dips []dip) {
	at := 0
	for k := range dips {
		if dips[k].squared < dips[at].squared {
			at = k
		}
	}
	dips[0], dips[at] = dips[at], dips[0]
}

// fromDip takes up the pair of a dip.
func (w *workspace) fromDip(d *dip) {
	w.list, w.amount = append(w.list[:0], d.first, d.second), append(w.amount[:0], 1, d.ratio)
	normalise(w.amount)
	w.evaluate()
}

// withThird takes up the pair of a dip with some of a third paint.
func (w *workspace) withThird(d *dip, third int, share float64) {
	w.fromDip(d)
	w.list, w.amount = append(w.list, third), append(w.amount, share)
	normalise(w.amount)
	w.evaluate()
}

// alongEdge goes from a dip at the edge to a mix with as much of a third paint, along the
// edge, where it may come down again elsewhere. It reports whether there is such a mix.
func (w *workspace) alongEdge(d *dip, third int) bool {
	w.fromDip(d)
	if !w.aim.Within(onEdge) || w.inSupport(third) {
		return false
	}
	w.list, w.amount = append(w.list, third), append(w.amount, 0)
	w.slopes.Fill(w.here, &w.m.optics, w.aim)
	w.deriveTurn()
	clear(w.step[:2])
	w.step[2] = 1
	w.tryStep()
	if !w.turnTo(-2 * offEdge) {
		return false
	}
	w.accept()
	return true
}

// farTriples goes through all supports of three paints: from the dips of their pairs,
// and by way of grey where they surround it.
func (w *workspace) farTriples() {
	n := len(w.members)
	pair := func(a, b int) *pairLook { return &w.pairs[a*(2*n-a-1)/2+b-a-1] }
	at := [...]int{0, 1, 2}
	for more := true; more && w.best.squared > w.enough; more = nextChoice(at[:], n) {
		without := [...]*pairLook{pair(at[1], at[2]), pair(at[0], at[2]), pair(at[0], at[1])}
		var all pairLook
		all, greyest := *without[0], 0
		for x, p := range without {
			for k := p.from; k < p.to; k++ {
				for _, share := range thirdShares {
					w.withThird(&w.dips[k], w.members[at[x]], share)
					w.chase()
				}
				if w.alongEdge(&w.dips[k], w.members[at[x]]) {
					w.chase()
				}
			}
			all.sectors |= p.sectors
			all.dark, all.light = min(all.dark, p.dark), max(all.light, p.light)
			if p.chroma < without[greyest].chroma {
				greyest = x
			}
		}
		w.hope = math.Inf(1)
		if surround(all.sectors) && w.anyPromises(min(max(w.aim.Target.L, all.dark), all.light)) {
			a, b := at[(3-greyest)/3], at[2-greyest/2]
			w.detourOfThree(&dip{first: w.members[a], second: w.members[b], ratio: without[greyest].greyest}, w.members[at[greyest]])
		}
	}
}

func (w *workspace) anyPromises(lightness float64) bool {
	for k := range w.greys {
		if w.promises(&w.greys[k], lightness) {
			return true
		}
	}
	return false
}

// detourOfThree is a detour of three paints: by a grey as light as the target and by the
// one next to the greyest of their pairs, unless that is the same.
func (w *workspace) detourOfThree(greyest *dip, third int) {
	target := w.aim.Target
	w.withThird(greyest, third, otherShare)
	own := w.here.Lab.L
	w.greyOf(greyest, third, target.L)
	same := w.passesForGrey() && math.Abs(w.here.Lab.L-own) < sameGrey
	w.aroundGrey(target, false)
	if !same && w.anyPromises(own) {
		w.greyOf(greyest, third, own)
		w.aroundGrey(target, false)
	}
}

// greyOf goes to a grey of three paints from the greyest of their pairs.
func (w *workspace) greyOf(greyest *dip, third int, lightness float64) {
	w.withThird(greyest, third, otherShare)
	w.head(colour.Lab{L: lightness})
	w.descend(toGrey)
}
