package mixing

import (
	"cmp"
	"slices"

	"fewtubes/cmd/fewtubes/internal/letdown"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
	"fewtubes/solver"
)

// Free is a mix measured out freely, not in whole parts.
type Free struct {
	Shares []solver.Share // volume fractions, > 0, sum 1
	Lab    colour.Lab
	DE     float64 // CIEDE2000 to the colour sought
}

// Recipe is a mix in whole parts.
type Recipe struct {
	Parts   []solver.Part // in the order of mixing: the strongest in this pile last
	Pulls   []float64     // by part: the CIEDE2000 by which a twentieth more of it moves the pile
	Lab     colour.Lab
	DE      float64
	Free    Free            // the nearest mix the parts stand for
	LetDown *letdown.Recipe // where the parts lose too much against it; else nil
}

// Recipes are the ways to a colour, fewest tubes first.
type Recipes struct {
	Target  colour.Lab
	Nearest Free // of all tubes on the table
	List    []Recipe
}

// mostRecipes are listed.
const mostRecipes = 5

// Recipes finds up to five recipes of at most maxParts parts (0: 20) for a
// colour. What comes no nearer than worthless beyond the best is left out.
func (t *Table) Recipes(target colour.Lab, maxParts int) Recipes {
	all := set.Full(len(t.Tubes))
	nearest := t.mixer.Closest(target, all, gamut.Search)
	out := Recipes{Target: target, Nearest: t.free(nearest)}
	found := t.mixer.Recipes(target, all, maxParts, mostRecipes)
	if len(found) == 0 {
		return out
	}
	best := slices.MinFunc(found, byDE)
	for _, r := range found {
		if r.DE > best.DE+worthless {
			continue
		}
		mix := t.mixer.Closest(target, set.Of(len(t.Tubes), r.Paints...), gamut.Search)
		if slices.Equal(r.Paints, best.Paints) && mix.DE > nearest.DE+letdown.MayLose {
			mix = nearest // the parts had no room for a trace that counts
		}
		out.List = append(out.List, t.recipe(target, r, mix, maxParts))
	}
	return out
}

// worthless is how much farther than the best a recipe may lie: five units are
// seen at a glance (common practice, no source).
const worthless = 5.0

func byDE(a, b gamut.Recipe) int {
	return cmp.Or(portable.Compare(a.DE, b.DE, portable.Fine), slices.Compare(a.Paints, b.Paints))
}

// recipe names the tubes of r in the order of mixing and lets a strong tinter
// down where the parts need it.
func (t *Table) recipe(target colour.Lab, r gamut.Recipe, mix gamut.Mix, maxParts int) Recipe {
	out := Recipe{Lab: r.Lab, DE: r.DE, Free: t.free(mix)}
	volumes := make([]float64, len(r.Parts))
	for i, n := range r.Parts {
		volumes[i] = float64(n)
	}
	for _, step := range t.mixer.MixingOrder(r.Paints, volumes) {
		out.Parts = append(out.Parts, solver.Part{ID: t.Tubes[step.Paint].ID, Parts: int(step.Amount)})
		out.Pulls = append(out.Pulls, step.Pull)
	}
	if r.DE > mix.DE+letdown.MayLose {
		out.LetDown = t.letDown(target, out, maxParts)
	}
	return out
}

// letDown is the recipe with strong tinters let down, where it comes nearer.
func (t *Table) letDown(target colour.Lab, r Recipe, maxParts int) *letdown.Recipe {
	find := func(id string) (*film.Paint, bool) {
		tube := t.Tube(id)
		return &tube.Paint, tube.IsWhite()
	}
	let, err := letdown.Find(target, r.Free.Shares, maxParts, gamut.Options{Surface: t.Surface, Light: t.Light}, find)
	if err != nil || !let.LetsDown() || let.DE >= r.DE {
		return nil
	}
	return &let
}

func (t *Table) free(mix gamut.Mix) Free {
	out := Free{Lab: mix.Lab, DE: mix.DE}
	for i, p := range mix.Paints {
		out.Shares = append(out.Shares, solver.Share{ID: t.Tubes[p].ID, Fraction: mix.Shares[i]})
	}
	return out
}

// IDs are the tubes a recipe takes, in parts or let down, and those they are
// let down in.
func (r *Recipe) IDs() (out []string) {
	for _, p := range r.Parts {
		out = append(out, p.ID)
	}
	if r.LetDown != nil {
		for _, p := range r.LetDown.Piles {
			out = append(out, p.Tube)
			if p.In != "" {
				out = append(out, p.In)
			}
		}
	}
	return out
}

// IDs are the tubes that any of the recipes takes.
func (r *Recipes) IDs() (out []string) {
	for i := range r.List {
		out = append(out, r.List[i].IDs()...)
	}
	return out
}
