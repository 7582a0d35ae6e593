package hand

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/recipe"
	"fewtubes/gamut/set"
	"fewtubes/solver"
)

// BaseOf is a base as a painter names it: whole parts of tubes.
type BaseOf []BasePart

// BasePart is so much of one tube in a base.
type BasePart struct {
	Tube  string // id
	Parts int
}

// Base is a mix that lies ready and is varied.
type Base struct {
	ID       string // "base-1"
	Of       BaseOf
	Fraction float64 // of all the paint of the picture
	Uses     []Use   // in the order of work
}

// Use is a colour made from a base.
type Use struct {
	Target   int     // its place
	Fraction float64 // of all the paint of the picture that is of the base here
}

// Gain is what bases save: the tubes and piles handled for all mixes of a palette, each
// paint of a pile prepared and of a base once, with the bases and without.
type Gain struct {
	Asked         bool
	With, Without int
}

// Tubes are the ids of a base.
func (b BaseOf) Tubes() (out []string) {
	for _, p := range b {
		out = append(out, p.Tube)
	}
	return out
}

// Words are what a base is: "3 yellow ochre + 1 ultramarine blue".
func (b BaseOf) Words(name func(id string) string) string {
	var out []string
	for _, p := range b {
		out = append(out, fmt.Sprintf("%d %s", p.Parts, name(p.Tube)))
	}
	return strings.Join(out, " + ")
}

func (b BaseOf) total() (parts int) {
	for _, p := range b {
		parts += p.Parts
	}
	return parts
}

// Short is what a recipe calls it.
func (b *Base) Short() string { return strings.ReplaceAll(b.ID, "-", " ") }

func (b *Base) take(target int, fraction float64) {
	b.Fraction += fraction
	for i := range b.Uses {
		if b.Uses[i].Target == target {
			b.Uses[i].Fraction = fraction
		}
	}
}

// add adds the tubes of so many parts of the base.
func (b *Base) add(volumes map[string]float64, parts float64) {
	for _, p := range b.Of {
		volumes[p.Tube] += float64(parts * float64(p.Parts) / float64(b.Of.total()))
	}
}

// paint is the base, per volume.
func (b BaseOf) paint(tube func(id string) *catalog.Tube) (out film.Paint) {
	var paints []film.Paint
	var shares []float64
	for _, p := range b {
		paints, shares = append(paints, tube(p.Tube).Paint), append(shares, float64(p.Parts)/float64(b.total()))
	}
	film.Mix(&out, paints, shares)
	return out
}

// handled is what a recipe takes a knife to: each tube, and each pile that lies ready.
func (r *Recipe) handled() int {
	n := len(r.Parts)
	for _, p := range r.Parts {
		if p.In != "" && p.Pile == nil {
			n++
		}
	}
	return n
}

func (p *Plan) handled() int {
	n := 2 * len(p.Prepared)
	for _, b := range p.Bases {
		if len(b.Uses) > 0 {
			n += len(b.Of)
		}
	}
	for i := range p.Recipes {
		n += p.Recipes[i].handled()
	}
	return n
}

// varied is the plan with all colours made from bases that are as plainly mixed so, the
// bases given or else proposed. Proposed bases that save nothing are left out.
func (p *Plan) varied(ctx context.Context, of *solver.Problem, tubes []catalog.Tube, palette []string, m Measures) (*Plan, error) {
	v, err := newVariety(of, tubes, p)
	if err != nil {
		return nil, err
	}
	bases, err := v.bases(ctx, m)
	if err != nil {
		return nil, err
	}
	out, err := v.plan(ctx, bases, palette, m)
	if err != nil {
		return nil, err
	}
	gain := Gain{Asked: true, With: out.handled(), Without: p.handled()}
	if len(m.Bases) == 0 && gain.With >= gain.Without {
		gain.With = gain.Without
		out = p
	}
	out.Gain = gain
	out.share(of.Targets)
	return out, nil
}

// variety makes the colours of a problem from bases.
type variety struct {
	of    *solver.Problem
	tubes []catalog.Tube
	alone *Plan
	mixer *gamut.Mixer
	goals []recipe.Target
}

func newVariety(of *solver.Problem, tubes []catalog.Tube, alone *Plan) (*variety, error) {
	v := &variety{of: of, tubes: tubes, alone: alone}
	paints := make([]film.Paint, len(tubes))
	for i := range tubes {
		paints[i] = tubes[i].Paint
	}
	for i := range of.Targets {
		v.goals = append(v.goals, recipe.Target{Lab: of.Targets[i].Lab, Tolerance: of.Targets[i].Tolerance})
	}
	var err error
	v.mixer, err = gamut.NewMixer(paints, gamut.Options{Surface: of.Surface, Light: of.Light, PaintsPerMix: of.PaintsPerMix})
	return v, err
}

// Vary is a colour made from each of the bases of m that serves it, the fewest additions
// first. All tubes of the bases must be among these of the mixer.
func Vary(ctx context.Context, mixer *gamut.Mixer, tubes []catalog.Tube, m Measures, target recipe.Target) (out []Recipe, err error) {
	v := &variety{tubes: tubes, mixer: mixer, goals: []recipe.Target{target}}
	bases, err := v.bases(ctx, m)
	if err != nil {
		return nil, err
	}
	named := v.named(bases, nil)
	for b := range bases {
		found, err := recipe.Vary(ctx, mixer, bases[b:b+1], v.goals, set.Full(len(tubes)), recipe.Limits{Total: m.Parts})
		if err != nil {
			return nil, err
		}
		if found[0].Take > 0 {
			found[0].Base = b
			out = append(out, v.told(&found[0], named))
		}
	}
	slices.SortStableFunc(out, func(a, b Recipe) int { return len(a.Parts) - len(b.Parts) })
	return out, nil
}

// FromBase is the base that a recipe is made from; nil: it is not.
func (r *Recipe) FromBase() *Base {
	if len(r.Parts) == 0 {
		return nil
	}
	return r.Parts[0].Base
}

// bases are those given, or those proposed.
func (v *variety) bases(ctx context.Context, m Measures) ([]recipe.Base, error) {
	if len(m.Bases) == 0 {
		handled := make([]int, len(v.goals))
		for i := range v.alone.Recipes {
			handled[i] = v.alone.Recipes[i].handled()
		}
		return recipe.Propose(ctx, v.mixer, v.goals, handled, v.mostUsed(), recipe.Limits{Total: m.Parts, Bases: m.Propose})
	}
	var out []recipe.Base
	for _, b := range m.Bases {
		var base recipe.Base
		for _, p := range b {
			at := slices.IndexFunc(v.tubes, func(t catalog.Tube) bool { return t.ID == p.Tube })
			if at < 0 {
				return nil, fmt.Errorf("hand: %s is not in the palette", p.Tube)
			}
			base.Paints, base.Parts = append(base.Paints, at), append(base.Parts, p.Parts)
		}
		out = append(out, base)
	}
	return out, nil
}

// mostUsed are the tubes that bases are proposed of: of more than ten those that most
// recipes take.
func (v *variety) mostUsed() set.Set {
	const most = 10
	uses := make([]int, len(v.tubes))
	order := make([]int, len(v.tubes))
	for i := range v.tubes {
		order[i] = i
		for k := range v.alone.Recipes {
			if slices.ContainsFunc(v.alone.Recipes[k].Shares(), func(s solver.Share) bool { return s.ID == v.tubes[i].ID }) {
				uses[i]++
			}
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return uses[b] - uses[a] })
	return set.Of(len(v.tubes), order[:min(most, len(order))]...)
}

// plan makes what it can from the bases and plans the rest anew.
func (v *variety) plan(ctx context.Context, bases []recipe.Base, palette []string, m Measures) (*Plan, error) {
	varied, err := recipe.Vary(ctx, v.mixer, bases, v.goals, set.Full(len(v.tubes)), recipe.Limits{Total: m.Parts})
	if err != nil {
		return nil, err
	}
	rest := *v.of
	rest.Targets = nil
	for i := range varied {
		if varied[i].Take > 0 && !v.plainer(&varied[i], i) {
			varied[i].Take = 0
		}
		if varied[i].Take == 0 {
			rest.Targets = append(rest.Targets, v.of.Targets[i])
		}
	}
	m.Bases, m.Propose = nil, 0
	out, err := New(ctx, &rest, palette, m)
	if err != nil {
		return nil, err
	}
	for i := range out.Prepared {
		out.Prepared[i].Fraction = 0
	}
	out.Bases = v.named(bases, varied)
	others := out.Recipes
	out.Recipes = nil
	for i := range varied {
		if varied[i].Take == 0 {
			out.Recipes, others = append(out.Recipes, others[0]), others[1:]
			continue
		}
		out.Recipes = append(out.Recipes, v.told(&varied[i], out.Bases))
	}
	return out, nil
}

// plainer reports whether a colour is mixed no less plainly from a base than by itself:
// with less in hand, or with as much and not at the edge of the tolerance.
func (v *variety) plainer(r *recipe.Varied, target int) bool {
	alone := &v.alone.Recipes[target]
	easily := recipe.Easily(v.goals[target].Tolerance)
	switch more := 1 + len(r.Add) - alone.handled(); {
	case !alone.Within || more < 0:
		return true
	case more > 0:
		return false
	}
	return r.DE <= easily || alone.DE > easily
}

func baseID(place int) string { return fmt.Sprintf("base-%d", place+1) }

// named are the bases that serve, with their uses in the order of work.
func (v *variety) named(bases []recipe.Base, varied []recipe.Varied) (out []Base) {
	for b, base := range bases {
		named := Base{ID: baseID(b)}
		for i, p := range base.Paints {
			named.Of = append(named.Of, BasePart{v.tubes[p].ID, base.Parts[i]})
		}
		var served []int
		for t := range varied {
			if varied[t].Take > 0 && varied[t].Base == b {
				served = append(served, t)
			}
		}
		for _, t := range v.workOrder(served) {
			named.Uses = append(named.Uses, Use{Target: t})
		}
		out = append(out, named)
	}
	return out
}

// workOrder puts colours in the order of work: the large and light one first, then
// always the one nearest to the last, so that a knife wiped once will do (common practice,
// no source).
func (v *variety) workOrder(served []int) (out []int) {
	left := slices.Clone(served)
	size := func(t int) float64 { return max(v.of.Targets[t].Area, 1e-6) * v.goals[t].Lab.L }
	for len(left) > 0 {
		at := 0
		for i := range left {
			if len(out) == 0 {
				if portable.Compare(size(left[i]), size(left[at]), portable.Fine) > 0 {
					at = i
				}
			} else if last := v.goals[out[len(out)-1]].Lab; portable.Compare(colour.DE2000(last, v.goals[left[i]].Lab), colour.DE2000(last, v.goals[left[at]].Lab), portable.Fine) < 0 {
				at = i
			}
		}
		out = append(out, left[at])
		left = slices.Delete(left, at, at+1)
	}
	return out
}

// told is a colour made from a base: the base first, whatever its parts.
func (v *variety) told(r *recipe.Varied, bases []Base) Recipe {
	out := Recipe{Lab: r.Lab, DE: r.DE, Within: true, Parts: []Part{{Base: &bases[r.Base], Quarters: 4 * r.Take}}}
	for i := range r.Add {
		out.Parts = append(out.Parts, part(v.tubes, &r.Add[i], r.Lab))
	}
	return out
}
