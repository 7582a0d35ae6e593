package solver

import (
	"cmp"
	"time"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/recipe"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/reach"
)

const (
	defaultMostPalettes = 24 // each takes a recipe per target, the dearest part of an answer
	defaultPartsTotal   = 20
)

// Session answers questions about a problem, whatever its limits. What it has
// worked out makes the next answer quicker and never another: an answer depends
// on the problem and its own question alone. It serves one goroutine at a time.
type Session struct {
	problem Problem
	index   *index
	mixer   *gamut.Mixer
	hand    *recipe.ByHand // where only what a hand mixes counts
	choice  *choice.Chooser
	recipes []*gamut.RecipeBook // per target; nil: not asked for yet
	plainly *recipe.Table       // nil: not asked for yet
}

// NewSession prepares a problem for questions. Its limits and preference are
// not used: every question brings its own.
func NewSession(p Problem) (*Session, error) {
	if err := checkTargets(p.Targets); err != nil {
		return nil, err
	}
	if len(p.Tubes) == 0 {
		return nil, &InputError{"catalogue", "there is no tube", "name at least one"}
	}
	if p.Light == nil {
		p.Light = colour.D65()
	}
	p.Surface = cmp.Or(p.Surface, film.Dry)
	x, err := newIndex(p.Tubes)
	if err != nil {
		return nil, err
	}
	m, err := newMixer(&p)
	if err != nil {
		return nil, err
	}
	p.PaintsPerMix = m.PaintsPerMix()
	if p.ByHand != Freely {
		p.MaxPartsTotal = cmp.Or(p.MaxPartsTotal, recipe.DefaultTotal)
	}
	p.MaxPartsTotal = cmp.Or(p.MaxPartsTotal, defaultPartsTotal)
	s := &Session{problem: p, index: x, mixer: m, recipes: make([]*gamut.RecipeBook, len(p.Targets))}
	oracle, err := s.newOracle()
	if err != nil {
		return nil, err
	}
	k := &choice.Stakes{Oracle: oracle, ByHand: s.hand != nil, Tubes: len(p.Tubes), Flaws: make([]int, len(p.Tubes))}
	for i := range p.Tubes {
		k.Flaws[i] = drawbacks(&p.Tubes[i])
	}
	for _, t := range p.Targets {
		k.Tolerance, k.Area = append(k.Tolerance, t.Tolerance), append(k.Area, t.Area)
	}
	if k.Prices, err = x.prices(nil); err != nil {
		return nil, err
	}
	s.choice = &choice.Chooser{Stakes: k}
	return s, nil
}

// newMixer mixes the tubes of a problem.
func newMixer(p *Problem) (*gamut.Mixer, error) { return gamut.NewMixer(p.paints()) }

// paints are those of the tubes, and how their mixes are made and seen.
func (p *Problem) paints() ([]film.Paint, gamut.Options) {
	paints := make([]film.Paint, len(p.Tubes))
	for i := range p.Tubes {
		paints[i] = p.Tubes[i].Paint
	}
	return paints, gamut.Options{Surface: p.Surface, Light: p.Light, PaintsPerMix: p.PaintsPerMix}
}

// newOracle is the mixer asked about the targets, or the lists of what a hand mixes.
func (s *Session) newOracle() (reach.Oracle, error) {
	if s.problem.ByHand != Freely {
		return s.byHandOracle()
	}
	var colours []colour.Lab
	for _, t := range s.problem.Targets {
		colours = append(colours, t.Lab)
	}
	return reach.NewOracle(s.mixer, colours), nil
}

// alone is the nearest mix of a palette by itself.
func (s *Session) alone(t int, palette set.Set) gamut.Mix {
	return reach.Alone(s.choice.Oracle, t, palette)
}

// Engines is how often the two engines behind choices were asked so far, and for how
// long: a search of our own, and a SAT solver that decides every minimum.
type Engines struct{ Search, SAT Engine }

// Engine is the use of one engine.
type Engine struct {
	Questions int
	Time      time.Duration
}

// Engines tells the use of the engines so far.
func (s *Session) Engines() Engines {
	u := &s.stakes().Uses
	return Engines{Engine(u.Search), Engine(u.SAT)}
}

// stakes are what every choice and lesson is about.
func (s *Session) stakes() *choice.Stakes { return s.choice.Stakes }

// names are those of targets, in their order.
func (s *Session) names(targets []int) []string {
	out := []string{}
	for _, t := range targets {
		out = append(out, s.problem.Targets[t].Name)
	}
	return out
}
