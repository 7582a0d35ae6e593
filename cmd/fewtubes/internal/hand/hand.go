// Package hand tells the recipes of package recipe by the ids of tubes, and in
// words.
package hand

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/recipe"
	"fewtubes/gamut/set"
	"fewtubes/solver"
)

// Measures say how recipes are made.
type Measures struct {
	Exact    bool // the nearest parts instead of the plainest recipe
	Parts    int  // the most of a recipe together; 0: the usual
	Prepared int  // piles prepared for the whole palette
	Bases    []BaseOf
	Propose  int // bases where none are given
}

// Usual are the measures where none are asked for.
func Usual() Measures { return Measures{Parts: recipe.DefaultTotal, Prepared: recipe.MostPrepared} }

// Pile is a tube let down for the whole palette.
type Pile struct {
	ID       string
	Strong   string  // id of the tube
	Into     string  // id of the paint it is let down in
	White    bool    // that is a white
	Ratio    int     // parts of Into to one of Strong
	Uses     int     // recipes that take it
	Fraction float64 // of all the paint of the picture
	apart    apart
}

// apart is what it takes to tell a pile from the others prepared.
type apart int

const (
	byStrong apart = iota
	byInto         // another has the same strong paint
	byRatio        // in the same paint
)

// Part is so much of one ingredient.
type Part struct {
	Tube     string // id
	In       string // id of the paint it is let down in; empty: straight from the tube
	Ratio    int    // parts of In to one of Tube each time it is let down
	Times    int    // let down: 0, 1 or 2
	Pile     *Pile  // the prepared pile, where it is one
	Base     *Base  // the base, where it is one; then there is no Tube
	Quarters int    // of a part; 1 is a touch, 2 and 3 are so many
	TooMuch  string // of a touch: what too much of it does, such as "too warm"; empty: nothing worth a word
}

// Parts are the quarters as a number of parts.
func (p Part) Parts() float64 { return float64(float64(p.Quarters) / 4) }

// ID is that of the prepared pile, or of the tube.
func (p Part) ID() string {
	switch {
	case p.Base != nil:
		return p.Base.ID
	case p.Pile != nil:
		return p.Pile.ID
	}
	return p.Tube
}

// strong is how much of a volume of the part is its tube.
func (p Part) strong(volume float64) float64 {
	for range p.Times {
		volume /= float64(p.Ratio + 1)
	}
	return volume
}

// Paint is the part, per volume.
func (p Part) Paint(tube func(id string) *catalog.Tube) film.Paint {
	if p.Base != nil {
		return p.Base.Of.paint(tube)
	}
	out := tube(p.Tube).Paint
	if p.In != "" {
		strong := p.strong(1)
		film.Mix(&out, []film.Paint{out, tube(p.In).Paint}, []float64{strong, 1 - strong})
	}
	return out
}

// Recipe is a mix in parts: the largest first, or, of the nearest parts, in the order
// of mixing.
type Recipe struct {
	Parts  []Part
	Own    bool // something is let down for it alone
	Lab    colour.Lab
	DE     float64 // CIEDE2000 to the target
	Within bool    // the tolerance
}

// Plan is how to mix the colours of a scene.
type Plan struct {
	Prepared []Pile
	Recipes  []Recipe // in the order of the targets
	Bases    []Base   // that some of them are made from
	Gain     Gain
}

// New plans the recipes of a palette, ids in the problem, for its targets. It ends
// early, with the context's error, when ctx is done.
func New(ctx context.Context, p *solver.Problem, palette []string, m Measures) (*Plan, error) {
	var tubes []catalog.Tube
	for i := range p.Tubes {
		if slices.Contains(palette, p.Tubes[i].ID) {
			tubes = append(tubes, p.Tubes[i])
		}
	}
	if len(tubes) == 0 {
		return &Plan{}, nil
	}
	targets := p.Targets
	limits := m.limits()
	if limits.Hand = (&solver.Problem{Tubes: tubes, ByHand: p.ByHand}).Hand(); p.ByHand == solver.Straight {
		limits.Prepared = 0
	}
	k, err := kitchen(tubes, gamut.Options{Surface: p.Surface, Light: p.Light, PaintsPerMix: p.PaintsPerMix}, limits)
	if err != nil {
		return nil, err
	}
	goals := make([]recipe.Target, len(targets))
	for i := range targets {
		goals[i] = recipe.Target{Lab: targets[i].Lab, Tolerance: targets[i].Tolerance}
	}
	found, err := k.Plan(ctx, goals)
	if err != nil {
		return nil, err
	}
	out := &Plan{}
	for _, p := range found.Prepared {
		out.Prepared = append(out.Prepared, Pile{
			ID: pileID(tubes, p.Ingredient), Strong: tubes[p.Paint].ID, Into: tubes[p.Into].ID, White: tubes[p.Into].IsWhite(), Ratio: p.Ratio, Uses: p.Uses,
		})
	}
	tellApart(out.Prepared)
	for i := range found.Recipes {
		out.Recipes = append(out.Recipes, told(tubes, &found.Recipes[i], out.Prepared))
	}
	if len(m.Bases) > 0 || m.Propose > 0 {
		return out.varied(ctx, p, tubes, palette, m)
	}
	out.share(targets)
	return out, nil
}

// Ways are up to five recipes for one colour, the plainest first.
func Ways(ctx context.Context, tubes []catalog.Tube, sight gamut.Options, m Measures, target recipe.Target) ([]Recipe, error) {
	k, err := kitchen(tubes, sight, m.limits())
	if err != nil {
		return nil, err
	}
	const most = 5
	found, err := k.Ways(ctx, target, most)
	if err != nil {
		return nil, err
	}
	var out []Recipe
	for i := range found {
		out = append(out, told(tubes, &found[i], nil))
	}
	return out, nil
}

func (m *Measures) limits() recipe.Limits { return recipe.Limits{Total: m.Parts, Prepared: m.Prepared} }

func kitchen(tubes []catalog.Tube, sight gamut.Options, limits recipe.Limits) (*recipe.Kitchen, error) {
	paints := make([]film.Paint, len(tubes))
	for i := range tubes {
		paints[i] = tubes[i].Paint
	}
	return recipe.NewKitchen(paints, sight, limits)
}

// pileID reads like the pile: "prussian-blue-1-in-10-titanium-white".
func pileID(tubes []catalog.Tube, in recipe.Ingredient) string {
	return fmt.Sprintf("%s-1-in-%d-%s", tubes[in.Paint].ID, in.Ratio, tubes[in.Into].ID)
}

func told(tubes []catalog.Tube, r *recipe.Recipe, prepared []Pile) Recipe {
	out := Recipe{Own: r.Kind == recipe.OwnLetDown, Lab: r.Lab, DE: r.DE, Within: r.Within}
	for _, p := range r.Parts {
		part := part(tubes, &p, r.Lab)
		if p.LetDown() {
			id := pileID(tubes, p.Ingredient)
			if i := slices.IndexFunc(prepared, func(q Pile) bool { return q.ID == id }); i >= 0 {
				part.Pile = &prepared[i]
			}
		}
		out.Parts = append(out.Parts, part)
	}
	return out
}

// part names a part of a mix of some colour.
func part(tubes []catalog.Tube, p *recipe.Part, mix colour.Lab) Part {
	out := Part{Tube: tubes[p.Paint].ID, Quarters: p.Quarters}
	if p.LetDown() {
		out.In, out.Ratio, out.Times = tubes[p.Into].ID, p.Ratio, 1
	}
	if p.Touch() {
		if faults := colour.Direction(p.Overdone, mix).Faults; len(faults) > 0 {
			out.TooMuch = string(faults[0].Fault)
		}
	}
	return out
}

// Mend is what to add to a pile by the measures of a hand, of one paint and of two,
// as recipe.Mend offers it: the parts are those added, colour and difference those
// of the whole.
func Mend(m *gamut.Mixer, tubes []catalog.Tube, pile gamut.Pile, target recipe.Target, palette set.Set) ([]Recipe, error) {
	one, two, err := recipe.Mend(m, pile, target, palette)
	if err != nil {
		return nil, err
	}
	var out []Recipe
	for _, a := range []recipe.Addition{one, two} {
		if len(a.Parts) == 0 {
			continue
		}
		r := Recipe{Lab: a.Lab, DE: a.DE, Within: a.Within}
		for i := range a.Parts {
			r.Parts = append(r.Parts, part(tubes, &a.Parts[i], a.Lab))
		}
		out = append(out, r)
	}
	return out, nil
}

func tellApart(piles []Pile) {
	for i := range piles {
		for j := range piles {
			switch p, q := &piles[i], &piles[j]; {
			case i == j || p.Strong != q.Strong:
			case p.Into == q.Into:
				p.apart = byRatio
			default:
				p.apart = max(p.apart, byInto)
			}
		}
	}
}

// short is what a recipe calls the pile: as much as tells it from the others.
func (p *Pile) short(name func(id string) string) string {
	switch p.apart {
	case byInto:
		return fmt.Sprintf("prepared %s (in %s)", name(p.Strong), name(p.Into))
	case byRatio:
		return fmt.Sprintf("prepared %s (1:%d in %s)", name(p.Strong), p.Ratio, name(p.Into))
	}
	return "prepared " + name(p.Strong)
}

// Brief is the pile where its paints have brief names: "blue tint" where it is let down in
// white, else "blue in ochre".
func (p *Pile) Brief(name func(id string) string) string {
	out := name(p.Strong) + " in " + name(p.Into)
	if p.White {
		out = name(p.Strong) + " tint"
	}
	if p.apart == byRatio {
		out += fmt.Sprintf(" 1:%d", p.Ratio)
	}
	return out
}

// share works out how much of the picture's paint each prepared pile and each base is.
func (p *Plan) share(targets []solver.Target) {
	all := 0.0
	for _, t := range targets {
		all += t.Area
	}
	for i := range p.Recipes {
		r := &p.Recipes[i]
		area := 1 / float64(len(targets))
		if all > 0 {
			area = targets[i].Area / all
		}
		total := 0
		for _, part := range r.Parts {
			total += part.Quarters
		}
		for _, part := range r.Parts {
			of := float64(area * float64(part.Quarters) / float64(total))
			switch {
			case part.Base != nil:
				part.Base.take(i, of)
			case part.Pile != nil:
				part.Pile.Fraction += of
			}
		}
	}
}

// Words are the recipe, the largest part first: "5 titanium white + 2 prepared
// phthalo blue + a touch of raw umber (too much: too warm)".
func (r *Recipe) Words(name func(id string) string) string {
	return r.join(func(p Part) string { return p.words(name) })
}

// Brief are the words without what too much of a touch does, piles by their brief
// names: "5 white + 2 blue tint + a touch of umber".
func (r *Recipe) Brief(name func(id string) string) string {
	return r.join(func(p Part) string {
		if p.TooMuch = ""; p.Pile != nil {
			return amount(p.Quarters, p.Pile.Brief(name))
		}
		return p.words(name)
	})
}

func (r *Recipe) join(words func(Part) string) string {
	parts := slices.Clone(r.Parts)
	slices.SortStableFunc(parts, func(a, b Part) int { return b.Quarters - a.Quarters })
	out := make([]string, len(parts))
	for i, p := range parts {
		out[i] = words(p)
	}
	return strings.Join(out, " + ")
}

func (p Part) words(name func(id string) string) string {
	if p.Base != nil {
		return fmt.Sprintf("%d %s", p.Quarters/4, p.Base.Short())
	}
	paint := name(p.Tube)
	switch {
	case p.Pile != nil:
		paint = p.Pile.short(name)
	case p.Times == 2:
		paint += fmt.Sprintf(" (twice 1:%d in %s)", p.Ratio, name(p.In))
	case p.In != "":
		paint += fmt.Sprintf(" (1:%d in %s)", p.Ratio, name(p.In))
	}
	if p.Quarters < 4 && p.TooMuch != "" {
		paint += " (too much: " + p.TooMuch + ")"
	}
	return amount(p.Quarters, paint)
}

// amount is so many quarters of a part of a paint.
func amount(quarters int, paint string) string {
	if quarters >= 4 {
		return fmt.Sprintf("%d %s", quarters/4, paint)
	}
	return [...]string{1: "a touch of ", 2: "two touches of ", 3: "three touches of "}[quarters] + paint
}

// Words are what to let down: "1 phthalo blue in 10 titanium white".
func (p Pile) Words(name func(id string) string) string {
	return fmt.Sprintf("1 %s in %d %s", name(p.Strong), p.Ratio, name(p.Into))
}

// Shares are the volume fractions of the tubes, those in piles included, by id.
func (r *Recipe) Shares() (out []solver.Share) {
	volumes, total := map[string]float64{}, 0.0
	for _, p := range r.Parts {
		if p.Base != nil {
			p.Base.add(volumes, p.Parts())
			total += p.Parts()
			continue
		}
		strong := p.strong(p.Parts())
		volumes[p.Tube] += strong
		if p.In != "" {
			volumes[p.In] += p.Parts() - strong
		}
		total += p.Parts()
	}
	for _, id := range slices.Sorted(maps.Keys(volumes)) {
		out = append(out, solver.Share{ID: id, Fraction: volumes[id] / total})
	}
	return out
}

// LetsDown reports whether the recipe takes a tube that is let down, for it alone
// or for others too.
func (r *Recipe) LetsDown() bool {
	return slices.ContainsFunc(r.Parts, func(p Part) bool { return p.In != "" })
}

// Touches reports whether the recipe takes a touch of anything.
func (r *Recipe) Touches() bool {
	return slices.ContainsFunc(r.Parts, func(p Part) bool { return p.Quarters < 4 })
}

// Count is how much of a part to take, in words: "6", "a touch".
func (p Part) Count() string {
	if p.Quarters >= 4 {
		return fmt.Sprint(p.Quarters / 4)
	}
	return [...]string{1: "a touch", 2: "2 touches", 3: "3 touches"}[p.Quarters]
}

// Named is what to take, and in a few words how it is let down: "phthalo blue",
// "prepared, 1 in 10 titanium white".
func (p Part) Named(name func(id string) string) (paint, note string) {
	switch {
	case p.Base != nil:
		return p.Base.Short(), p.Base.Of.Words(name)
	case p.Pile != nil:
		return name(p.Tube), fmt.Sprintf("prepared, 1 in %d %s", p.Pile.Ratio, name(p.Pile.Into))
	case p.Times == 2:
		return name(p.Tube), fmt.Sprintf("twice 1 in %d %s", p.Ratio, name(p.In))
	case p.In != "":
		return name(p.Tube), fmt.Sprintf("1 in %d %s", p.Ratio, name(p.In))
	}
	return name(p.Tube), ""
}
