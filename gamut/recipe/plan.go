package recipe

import (
	"cmp"
	"context"
	"math"
	"slices"

	"fewtubes/gamut/colour"
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
// first kind that serves, and within it the rule of package recipe. Where none
// serves, what comes within half a unit of the nearest that parts can come is
// taken in place of what comes within the tolerance. It ends early, with the
// context's error, when ctx is done.
func (k *Kitchen) Plan(ctx context.Context, targets []Target) (Plan, error) {
	p := planner{k: k, ctx: ctx, recipes: make([]Recipe, len(targets)), done: make([]bool, len(targets))}
	if k.tubes == 0 {
		return Plan{Recipes: p.recipes}, nil
	}
	p.limits = make([]float64, len(targets))
	for t := range targets {
		p.limits[t] = targets[t].Tolerance
	}
	p.targets = targets
	piles, err := p.all()
	if err == nil && slices.Contains(p.done, false) {
		err = p.nearest(piles)
	}
	if err != nil {
		return Plan{}, err
	}
	return p.plan(piles), nil
}

// planner holds what is done of a plan.
type planner struct {
	k       *Kitchen
	ctx     context.Context
	targets []Target
	limits  []float64 // the tolerances, wider where none is met
	reach   reach     // of the targets that straight recipes leave
	recipes []Recipe
	done    []bool
}

// all goes through the kinds in turn and chooses the piles on the way.
func (p *planner) all() (piles []int16, err error) {
	if err := p.take(Straight, p.k.setsOf()); err != nil {
		return nil, err
	}
	_, left := p.open()
	p.reach = p.k.reach(left)
	if piles, err = p.choose(); err != nil {
		return nil, err
	}
	return piles, p.withPiles(piles)
}

// choose chooses the piles to prepare for what straight recipes leave.
func (p *planner) choose() ([]int16, error) {
	_, goals := p.open()
	if p.k.limits.Prepared == 0 || len(goals) == 0 {
		return nil, nil
	}
	most := min(p.k.limits.Prepared, MostPrepared)
	serving, err := p.k.serve(p.ctx, goals, p.reach, most)
	if err != nil {
		return nil, err
	}
	return p.k.choose(serving, most, len(goals)), nil
}

// withPiles takes recipes of prepared piles, then those of one of their own.
func (p *planner) withPiles(piles []int16) error {
	if err := p.take(Prepared, p.k.setsOfAny(piles)); err != nil {
		return err
	}
	for own := 1; own <= mostOwn; own++ {
		if err := p.take(OwnLetDown, p.k.setsOfOwn(piles, own)); err != nil {
			return err
		}
	}
	return nil
}

// mostOwn is the most that is let down for one recipe alone: two where one will
// not do.
const mostOwn = 2

// setsOfAny are the sets of any of these piles.
func (k *Kitchen) setsOfAny(piles []int16) (out []set) {
	for n := 1; n <= len(piles); n++ {
		out = append(out, k.setsOfPiles(n, piles)...)
	}
	return out
}

// setsOfOwn are the sets with so many piles of their own beside those prepared.
func (k *Kitchen) setsOfOwn(prepared []int16, own int) (out []set) {
	others := slices.DeleteFunc(k.allPiles(), func(p int16) bool { return slices.Contains(prepared, p) })
	subsets(others, own, func(mine []int16) {
		for beside := 0; beside <= min(len(prepared), mostOwn-own+1); beside++ {
			subsets(prepared, beside, func(theirs []int16) {
				all := slices.Sorted(slices.Values(slices.Concat(mine, theirs)))
				for _, s := range k.setsOf(all...) {
					for i, p := range s.item[s.tubes:s.n] {
						if !slices.Contains(prepared, p) {
							s.firm |= 1 << (int(s.tubes) + i) // nobody lets down a tube for a touch of it
						}
					}
					out = append(out, s)
				}
			})
		}
	})
	return out
}

// open are the targets without a recipe.
func (p *planner) open() (at []int, goals []goal) {
	for t := range p.targets {
		if !p.done[t] {
			at, goals = append(at, t), append(goals, newGoal(t, p.targets[t].Lab, p.limits[t]))
		}
	}
	return at, goals
}

// take gives the targets without a recipe the plainest of these sets.
func (p *planner) take(kind Kind, sets []set) error {
	at, goals := p.open()
	if len(goals) == 0 || len(sets) == 0 {
		return nil
	}
	shelves, err := p.k.shelve(p.ctx, sets, goals, p.reach)
	if err != nil {
		return err
	}
	for i, t := range at {
		if c, ok := shelves[i].plainest(p.limits[t]); ok {
			p.recipes[t], p.done[t] = p.k.recipe(kind, &c, &p.targets[t]), true
		}
	}
	return nil
}

// nearest finds how near whole parts come to the targets that are left, and takes
// the plainest recipe within half a unit of that.
func (p *planner) nearest(piles []int16) error {
	at, goals := p.open()
	sets := p.k.setsOf()
	sets = append(sets, p.k.setsOfAny(piles)...)
	sets = append(sets, p.k.setsOfOwn(piles, 1)...)
	least, err := p.k.least(p.ctx, sets, goals)
	if err != nil {
		return err
	}
	p.reach = nil
	for i, t := range at {
		p.limits[t] = least[i] + mayLose
	}
	if err := p.take(Straight, p.k.setsOf()); err != nil {
		return err
	}
	return p.withPiles(piles)
}

// plan counts the uses of the piles and leaves out what nothing takes.
func (p *planner) plan(piles []int16) Plan {
	out := Plan{Recipes: p.recipes}
	for _, q := range piles {
		pile := Pile{Ingredient: p.k.ingredients[q]}
		for i := range p.recipes {
			if p.recipes[i].takes(pile.Ingredient) {
				pile.Uses++
			}
		}
		if pile.Uses > 0 {
			out.Prepared = append(out.Prepared, pile)
		}
	}
	slices.SortStableFunc(out.Prepared, func(a, b Pile) int { return cmp.Compare(b.Uses, a.Uses) })
	return out
}

func (r *Recipe) takes(in Ingredient) bool {
	return r.Kind == Prepared && slices.ContainsFunc(r.Parts, func(p Part) bool { return p.Ingredient == in })
}

// recipe is a candidate, evaluated anew by the film model.
func (k *Kitchen) recipe(kind Kind, c *candidate, target *Target) Recipe {
	out := Recipe{Kind: kind, Paints: int(c.set.paints)}
	items := c.set.items(nil)
	volumes := make([]float64, len(items))
	for i := range items {
		volumes[i] = float64(c.division.quarters[i])
	}
	for i, item := range items {
		part := Part{Ingredient: k.ingredients[item], Quarters: int(c.division.quarters[i])}
		if part.Touch() {
			volumes[i] *= 2
			part.Overdone = k.mixer.Evaluate(items, volumes)
			volumes[i] /= 2
		}
		out.Parts = append(out.Parts, part)
	}
	slices.SortStableFunc(out.Parts, func(a, b Part) int { return cmp.Compare(b.Quarters, a.Quarters) })
	out.Lab = k.mixer.Evaluate(items, volumes)
	out.DE = colour.DE2000(out.Lab, target.Lab)
	out.Within = out.DE <= target.Tolerance
	return out
}

// closer keeps how near whole parts come to every goal.
type closer struct{ goals []goal }

func (v *closer) begin(*set) bool { return true }

func (v *closer) see(c *counter, r *counted) bool {
	if r.division.touches > 0 {
		return true
	}
	for t := range v.goals {
		if de, ok := v.goals[t].difference(r.lab); ok {
			v.goals[t].within(de)
		}
	}
	return true
}

// least is how near whole parts of these sets come to the goals.
func (k *Kitchen) least(ctx context.Context, sets []set, goals []goal) ([]float64, error) {
	var all []*closer
	err := k.count(ctx, sets, func() visitor {
		v := &closer{slices.Clone(goals)}
		for t := range v.goals {
			v.goals[t].within(math.Inf(1))
		}
		all = append(all, v)
		return v
	})
	out := make([]float64, len(goals))
	for t := range out {
		out[t] = math.Inf(1)
		for _, v := range all {
			out[t] = min(out[t], v.goals[t].limit)
		}
	}
	return out, err
}
