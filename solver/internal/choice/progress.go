package choice

import (
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

// Progress is where a choice stands.
type Progress struct {
	AtLeast  int // tubes: no palette has fewer
	AtMost   int // tubes of the best palette found so far; 0: none yet
	Rounds   int
	Cuts     int
	Searches int
}

// sighting keeps the bound and the best palette seen while a hunt runs.
type sighting struct {
	c     *Core
	h     *Hunt
	rules *cover.Rules // that the palettes keep
	d     *Decision
	tell  func(Progress)
	lower int
	best  set.Set
}

// watching makes a hunt report and remember.
func (c *Core) watching(h *Hunt, d *Decision, tell func(Progress)) *sighting {
	s := &sighting{c: c, h: h, rules: h.rules, d: d, tell: tell}
	h.watch = s.proposed
	return s
}

func (s *sighting) atLeast(size int) {
	s.lower = size
	s.report()
}

// proposed makes a palette that reaches everything out of one that does not
// yet: for each target missed it adds the known mix that takes fewest tubes more.
func (s *sighting) proposed(palette set.Set) {
	full := palette.Clone()
	for _, t := range s.d.Reachable {
		k := s.c.Known[t]
		if k.KnownToReach(full, s.c.Tolerance[t]) {
			continue
		}
		more := k.FewestMore(full, s.rules.Allowed, s.c.Tolerance[t])
		if more == nil {
			return
		}
		full = set.Union(full, more)
	}
	for _, i := range full.Members() {
		if s.rules.Keep.Has(i) {
			continue
		}
		full.Remove(i)
		if !s.c.knownToReachAll(full, s.d.Reachable) {
			full.Add(i)
		}
	}
	if (s.best == nil || full.Len() < s.best.Len()) && s.rules.Keeps(full) {
		s.best = full
	}
	s.report()
}

func (s *sighting) report() {
	if s.tell == nil {
		return
	}
	p := Progress{AtLeast: s.lower, Rounds: s.h.rounds, Cuts: s.h.loaded}
	if s.best != nil {
		p.AtMost = s.best.Len()
	}
	for _, k := range s.c.Known {
		p.Searches += k.Searches
	}
	s.tell(p)
}

func (c *Core) knownToReachAll(palette set.Set, targets []int) bool {
	for _, t := range targets {
		if !c.Known[t].KnownToReach(palette, c.Tolerance[t]) {
			return false
		}
	}
	return true
}

// interrupted leaves the best palette seen in a decision that was cut short.
func (d *Decision) interrupted(s *sighting) {
	if d.Palettes == nil && s.best != nil {
		d.Palettes, d.Size, d.reached = []set.Set{s.best}, s.best.Len(), true
	}
	d.Lower = s.lower
}
