package mixing

import (
	"cmp"
	"slices"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/letdown"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
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
	Free    Free         // the nearest mix the parts stand for
	LetDown *hand.Recipe // where the parts lose too much against it; else nil
	Hand    *hand.Recipe // by the measures of a hand; nil: the nearest parts
}

// Recipes are the ways to a colour.
type Recipes struct {
	Target  colour.Lab
	Nearest Free // of all tubes on the table
	List    []Recipe
	NoBase  bool // bases were given and none serves
}

// mostRecipes are listed.
const mostRecipes = 5

// Recipes finds up to five recipes of at most maxParts parts (0: 20) for a
// colour. What comes no nearer than worthless beyond the best is left out; where that
// leaves none of the tubes of a nearest mix that asks for letting down, it is added. No
// recipe is nearer than the mix it stands for, and none of those than the nearest.
func (t *Table) Recipes(target colour.Lab, maxParts int) Recipes {
	all := set.Full(len(t.Tubes))
	nearest := t.mixer.Closest(target, all, gamut.Search)
	found := t.mixer.Recipes(target, all, maxParts, mostRecipes)
	out := Recipes{Target: target, Nearest: t.free(nearest)}
	if len(found) == 0 {
		return out
	}
	best := slices.MinFunc(found, byDE)
	found = slices.DeleteFunc(found, func(r gamut.Recipe) bool { return r.DE > best.DE+worthless })
	short := shortOf(nearest, found)
	for i, r := range found {
		mix := t.mixer.Closest(target, set.Of(len(t.Tubes), r.Paints...), gamut.Search)
		if i == short && mix.DE > nearest.DE+letdown.MayLose {
			mix = nearest // the parts had no room for a trace that counts
		}
		out.List = append(out.List, t.recipe(target, r, mix, maxParts))
	}
	if short < 0 && best.DE > nearest.DE+letdown.MayLose {
		if own := t.recipe(target, t.mixer.Recipe(target, nearest, maxParts), nearest, maxParts); own.LetDown != nil {
			out.List = append(out.List, own)
			slices.SortStableFunc(out.List, func(r, s Recipe) int { return len(r.Parts) - len(s.Parts) })
		}
	}
	for _, r := range out.List {
		if r.Free.DE < out.Nearest.DE {
			out.Nearest = r.Free
		}
	}
	return out
}

// shortOf is the place of the nearest recipe that takes no paint but those of a mix; -1
// if there is none.
func shortOf(mix gamut.Mix, found []gamut.Recipe) int {
	short := -1
	for i, r := range found {
		other := func(p int) bool { return !slices.Contains(mix.Paints, p) }
		if !slices.ContainsFunc(r.Paints, other) && (short < 0 || byDE(r, found[short]) < 0) {
			short = i
		}
	}
	return short
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
	volumes := make([]float64, len(r.Parts))
	for i, n := range r.Parts {
		volumes[i] = float64(n)
	}
	mix = t.mixer.Nearer(target, mix, r.Paints, volumes)
	out := Recipe{Lab: r.Lab, DE: r.DE, Free: t.free(mix)}
	for _, step := range t.mixer.MixingOrder(r.Paints, volumes) {
		out.Parts = append(out.Parts, solver.Part{ID: t.Tubes[step.Paint].ID, Parts: int(step.Amount)})
		out.Pulls = append(out.Pulls, step.Pull)
	}
	if r.DE > mix.DE+letdown.MayLose {
		out.LetDown = letdown.Nearer(out.DE, target, out.Free.Shares, maxParts, gamut.Options{Surface: t.Surface, Light: t.Light}, t.Tube)
		if out.LetDown != nil {
			paints, volumes := t.volumes(out.LetDown)
			out.Free = t.free(t.mixer.Nearer(target, mix, paints, volumes))
		}
	}
	return out
}

// volumes are the tubes of a recipe as paints of the table, in its order, with their
// shares.
func (t *Table) volumes(r *hand.Recipe) (paints []int, volumes []float64) {
	shares := r.Shares()
	slices.SortFunc(shares, func(a, b solver.Share) int { return t.place(a.ID) - t.place(b.ID) })
	for _, s := range shares {
		paints, volumes = append(paints, t.place(s.ID)), append(volumes, s.Fraction)
	}
	return paints, volumes
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
	for _, other := range []*hand.Recipe{r.Hand, r.LetDown} {
		if other == nil {
			continue
		}
		for _, p := range other.Parts {
			if p.Base != nil {
				out = append(out, p.Base.Of.Tubes()...)
				continue
			}
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
