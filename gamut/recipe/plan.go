package recipe

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// Pile is a tube let down for the whole palette, and how many recipes take it.
type Pile struct {
	Ingredient
	Uses int
}

// Plan is how to mix the colours of a scene.
type Plan struct {
	Prepared []Pile   // those most used first
	Recipes  []Recipe // one to each target
}

// Plan finds the piles to prepare and the plainest recipe for each target: the
// first kind that serves, and within it the rule of the package. Where none
// serves, what comes within half a unit of the nearest that parts can come is
// taken in place of what comes within the tolerance. It ends early, with the
// context's error, when ctx is done.
func (k *Kitchen) Plan(ctx context.Context, targets []Target) (Plan, error) {
	if k.wide != nil {
		return k.wide.plan(ctx, targets)
	}
	return k.plan(ctx, targets, k.limits, -1)
}

// plan is Plan without one of the paints; -1 leaves out none.
func (k *Kitchen) plan(ctx context.Context, targets []Target, limits Limits, without int) (Plan, error) {
	p := planner{k: k, ctx: ctx, targets: targets, limits: limits, paints: k.supports(without), recipes: make([]Recipe, len(targets))}
	for t := range targets {
		p.left = append(p.left, newGoal(t, &targets[t]))
	}
	if err := p.straight(); err != nil {
		return Plan{}, err
	}
	p.reach = k.reach(p.paints, p.left)
	if err := p.prepare(); err != nil {
		return Plan{}, err
	}
	if err := p.withPiles(); err != nil {
		return Plan{}, err
	}
	if err := p.nearest(); err != nil {
		return Plan{}, err
	}
	return p.plan(), nil
}

// planner holds what is done of a plan.
type planner struct {
	k       *Kitchen
	ctx     context.Context
	targets []Target
	limits  Limits
	paints  []support // that one recipe may hold together
	left    []goal    // targets without a recipe
	reach   reach     // of these
	piles   []int16
	recipes []Recipe
}

// straight takes recipes of tubes as they come.
func (p *planner) straight() error {
	return p.take(Straight, p.ofTubes(), nil)
}

// ofTubes are the sets of tubes alone.
func (p *planner) ofTubes() []ingredients {
	sets := make([]ingredients, len(p.paints))
	for i, s := range p.paints {
		sets[i] = s.straight()
	}
	return sets
}

// mostPaired is the number of tubes up to which the choice of piles counts recipes
// of two piles. Beyond it most colours have straight recipes, and pairs take long.
const mostPaired = 8

// prepare chooses the piles to prepare for what straight recipes leave.
func (p *planner) prepare() error {
	most := min(p.limits.Prepared, MostPrepared)
	if most == 0 || len(p.left) == 0 {
		return nil
	}
	together := min(most, p.k.piles.together)
	if p.k.tubes > mostPaired {
		together = 1
	}
	serving, err := p.k.serve(p.ctx, p.left, &p.reach, together)
	if err != nil {
		return err
	}
	p.piles = serving.choose(most, len(p.left))
	return nil
}

// pileLimits are the most piles in a recipe.
type pileLimits struct {
	together int // prepared
	own      int // let down for it alone
	all      int
}

// Two of its own are taken where one will not do; a hand lets down one paint, whether
// for all recipes or for one.
var (
	anyPiles = pileLimits{together: mostTogether, own: 2, all: 3}
	handful  = pileLimits{together: 1, own: 1, all: 1}
)

// withPiles takes recipes of prepared piles, then those with piles of their own.
func (p *planner) withPiles() error {
	if err := p.take(Prepared, p.withPrepared(), &p.reach); err != nil {
		return err
	}
	for own := 1; own <= p.k.piles.own; own++ {
		if err := p.take(OwnLetDown, p.withOwn(own), &p.reach); err != nil {
			return err
		}
	}
	return nil
}

// withPrepared are the sets of prepared piles.
func (p *planner) withPrepared() (out []ingredients) {
	for _, s := range p.reach.only(p.left) {
		for n := 1; n <= p.k.piles.together; n++ {
			out = append(out, p.k.setsOf(s, n, p.piles)...)
		}
	}
	return out
}

// withOwn are the sets with so many piles of their own, beside those prepared.
func (p *planner) withOwn(own int) (out []ingredients) {
	for _, paints := range p.reach.only(p.left) {
		for n := own; n <= min(own+len(p.piles), p.k.piles.all); n++ {
			for _, s := range p.k.setsOf(paints, n, p.k.allPiles()) {
				mine := 0
				for i := s.tubes; i < s.n; i++ {
					if !slices.Contains(p.piles, s.item[i]) {
						mine++
						s.firm |= 1 << i // nobody lets down a tube for a touch of it
					}
				}
				if mine == own {
					out = append(out, s)
				}
			}
		}
	}
	return out
}

// take gives the targets without a recipe the plainest of these sets; a nil reach
// leaves every set to every target.
func (p *planner) take(kind Kind, sets []ingredients, reach *reach) error {
	if len(p.left) == 0 || len(sets) == 0 {
		return nil
	}
	shelves, err := p.k.shelve(p.ctx, sets, p.left, reach)
	if err != nil {
		return err
	}
	left := p.left[:0]
	for i, g := range p.left {
		if c, ok := shelves[i].plainest(g.limit); ok {
			p.recipes[g.target] = p.k.recipe(kind, &c, &p.targets[g.target])
		} else {
			left = append(left, g)
		}
	}
	p.left = left
	return nil
}

// nearest finds how near parts come to the targets that are left, and takes the
// plainest recipe within half a unit of that.
func (p *planner) nearest() error {
	if len(p.left) == 0 || len(p.paints) == 0 {
		return nil
	}
	for i := range p.left {
		p.left[i].within(math.Inf(1))
	}
	straight, err := p.k.least(p.ctx, p.ofTubes(), p.left, nil)
	if err != nil {
		return err
	}
	// Piles matter where they come nearer by more than half a unit.
	for i := range p.left {
		p.left[i].within(max(0, straight[i]-mayLose))
	}
	p.reach = p.k.reach(p.paints, p.left)
	sets := append(p.withPrepared(), p.withOwn(1)...)
	least, err := p.k.least(p.ctx, sets, p.left, &p.reach)
	if err != nil {
		return err
	}
	for i := range p.left {
		p.left[i].within(min(least[i], straight[i]) + mayLose)
	}
	if err := p.straight(); err != nil {
		return err
	}
	return p.withPiles()
}

// plan is what was found, without piles that nothing takes.
func (p *planner) plan() Plan {
	out := Plan{Recipes: p.recipes}
	for _, q := range p.piles {
		out.Prepared = append(out.Prepared, Pile{Ingredient: p.k.ingredients[q]})
	}
	out.count()
	return out
}

// count counts the uses of the prepared piles and leaves out what nothing takes.
func (p *Plan) count() {
	for i := range p.Prepared {
		pile := &p.Prepared[i]
		pile.Uses = 0
		for j := range p.Recipes {
			if p.Recipes[j].takes(pile.Ingredient) {
				pile.Uses++
			}
		}
	}
	p.Prepared = slices.DeleteFunc(p.Prepared, func(pile Pile) bool { return pile.Uses == 0 })
	slices.SortStableFunc(p.Prepared, func(a, b Pile) int { return cmp.Compare(b.Uses, a.Uses) })
}

func (r *Recipe) takes(in Ingredient) bool {
	return slices.ContainsFunc(r.Parts, func(p Part) bool { return p.Ingredient == in })
}
