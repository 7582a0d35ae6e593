package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/solver"
)

// Plan is an answer as it is looked at rather than read: the tubes, how well they do,
// and each colour with its recipe, in fields for drawing.
type Plan struct {
	Headline string       `json:"headline"`
	Brief    string       `json:"brief"` // the headline where a count stands before it
	Tubes    []PlanTube   `json:"tubes"`
	Reached  int          `json:"reached"`
	Of       int          `json:"of"`
	Area     string       `json:"area"`   // reached, %; empty: still to be looked at
	AreaOf   string       `json:"areaOf"` // "picture", "pictures", or, without one, "areas" of the colours
	NameToo  []PlanColour `json:"nameToo"`
	Holds    int          `json:"holds"` // of Draws plausible boxes
	Draws    int          `json:"draws"` // 0: not yet tried
	Price    shown.Cents  `json:"price"`
	Minimum  bool         `json:"minimum"` // it is known that fewer will not do
	Others   string       `json:"others"`  // "33 other fives"; empty: none
	Targets  []PlanTarget `json:"targets"`
	Prepared []string     `json:"prepared"` // what to let down first, a sentence each
}

// PlanColour is a colour of a photograph that no colour of the scene stands for.
type PlanColour struct {
	Name   string               `json:"name"`
	Colour string               `json:"colour"` // as a scene writes it
	Hex    string               `json:"hex"`
	Value  string               `json:"value"`
	Photo  string               `json:"photo"` // empty: nowhere in particular
	X      shown.TenThousandths `json:"x"`
	Y      shown.TenThousandths `json:"y"`
}

// plurals are sizes of palettes, of more than one.
var plurals = []string{"", "ones", "twos", "threes", "fours", "fives", "sixes", "sevens", "eights", "nines", "tens", "palettes"}

// PlanTube is a tube of the palette.
type PlanTube struct {
	ID       string      `json:"id"`
	Name     string      `json:"name"`
	Label    string      `json:"label"` // the name without what stands in brackets
	More     string      `json:"more"`  // that, where another tube has the same label
	Short    string      `json:"short"` // beside the others of the palette
	Masstone string      `json:"masstone"`
	Tint     string      `json:"tint"`
	Hazards  []string    `json:"hazards"`
	Fails    []string    `json:"fails"`
	Price    shown.Cents `json:"price"`
	Own      bool        `json:"own"`
}

// PlanTarget is a colour and the recipe for it.
type PlanTarget struct {
	Name      string           `json:"name"`
	Mixed     string           `json:"mixed"` // #rrggbb
	DE        shown.Hundredths `json:"de"`    // of the recipe
	Tolerance shown.Hundredths `json:"tolerance"`
	Within    bool             `json:"within"` // reach of these tubes
	Word      string           `json:"word"`   // the difference in a word
	Miss      string           `json:"miss"`   // what is wrong with the nearest mix; empty within reach
	Chroma    string           `json:"chroma"`
	Recipe    string           `json:"recipe"` // in words
	Parts     []PlanPart       `json:"parts"`
}

// PlanPart is an ingredient of a recipe.
type PlanPart struct {
	Count string  `json:"count"` // "6", "a touch"
	Parts float64 `json:"parts"`
	ID    string  `json:"id"` // of the tube, or of the pile prepared
	Tube  string  `json:"tube"`
	In    string  `json:"in,omitempty"`    // the paint it is let down in
	Ratio int     `json:"ratio,omitempty"` // parts of In to one of Tube each time it is let down
	Times int     `json:"times,omitempty"`
	Paint string  `json:"paint"`
	Note  string  `json:"note"` // how it is let down
	Hex   string  `json:"hex"`  // of it alone
}

// NewPlanPart is a part of a recipe of some tubes, seen by a light.
func NewPlanPart(part hand.Part, tubes tubelist.List, light *colour.Light, surface film.Surface) PlanPart {
	paint := part.Paint(tubes.Tube)
	seen := paint.Masstone(surface)
	name, note := part.Named(tubes.Name)
	return PlanPart{
		Count: part.Count(), Parts: part.Parts(), ID: part.ID(), Tube: part.Tube, In: part.In, Ratio: part.Ratio, Times: part.Times,
		Paint: name, Note: note, Hex: shown.Hex(light.Lab(&seen)),
	}
}

// Plan draws up the best palette.
func (c *Choice) Plan() *Plan {
	p := &Plan{Headline: c.planHeadline(), Tubes: []PlanTube{}, Targets: []PlanTarget{}, Prepared: []string{}, Area: "0", AreaOf: "areas", NameToo: []PlanColour{}}
	p.Of = len(c.problem.Targets)
	if len(c.Palettes) == 0 {
		return p
	}
	best := &c.Palettes[0]
	short := c.short(best.Tubes)
	for _, t := range c.Swatches(best.Tubes) {
		label, more := c.label(t.Name)
		p.Tubes = append(p.Tubes, PlanTube{t.ID, t.Name, label, more, short(t.ID), t.Masstone, t.Tint, t.Hazards, t.Fails, t.Price, t.Own})
	}
	p.Reached, p.Price = c.reached(), best.Price
	p.Area = c.areaReached(best)
	p.cover(&c.Covered)
	p.Minimum = c.fewestKnown()
	p.Brief = c.planBrief()
	if d := c.Doubt; d != nil {
		p.Holds, p.Draws = d.Holds, d.Draws
	}
	if n := len(best.Tubes); len(c.Palettes) > 1 {
		size := plurals[min(n, len(plurals)-1)]
		if len(c.Palettes) == 2 && !c.Capped {
			size = "palette"
		}
		p.Others = shown.Capital(fmt.Sprintf("%s other %s", c.othersWords(), size))
	}
	for _, t := range best.Targets {
		p.Targets = append(p.Targets, c.planTarget(t))
	}
	for _, pile := range best.Prepared {
		p.Prepared = append(p.Prepared, pile.sentence(c.name))
	}
	return p
}

// cover puts what is reached of the photographs in the place of the colours' areas,
// and names what else should be noted there.
func (p *Plan) cover(c *Covered) {
	if len(c.Photographs) == 0 {
		return
	}
	within, of := c.Whole()
	p.Area, p.AreaOf = shown.Digits(math.Floor(float64(1000*within)+1e-6)/10, 1), of // 100 where nothing is missed
	for _, n := range c.NameToo {
		p.NameToo = append(p.NameToo, PlanColour{n.Name, scene.Spell(n.Lab.Colour()), shown.Hex(n.Lab.Colour()), shown.Value(n.Lab.Colour().L), n.Photograph, n.X, n.Y})
	}
}

// label is a name for under a swatch.
func (c *Choice) label(name string) (label, more string) {
	label, more, bracketed := strings.Cut(name, " (")
	if !bracketed {
		return shown.Capital(name), ""
	}
	for _, t := range c.list() {
		if t.Name != name && strings.HasPrefix(t.Name, label+" (") {
			return shown.Capital(label), strings.TrimSuffix(more, ")")
		}
	}
	return shown.Capital(label), ""
}

// fewestKnown is whether no palette of fewer tubes does as much.
func (c *Choice) fewestKnown() bool {
	m := c.Minimum
	return c.Schema != schemaCheck && m.Tubes > 0 && m.Proof != solver.Interrupted && !c.nothingReachable() && len(c.Conflict) == 0 &&
		(c.Sure == nil || c.Sure.Reached && m.AtLeast == m.Tubes)
}

func (c *Choice) planHeadline() string {
	if len(c.Palettes) == 0 {
		return "No tube is allowed."
	}
	n := len(c.Palettes[0].Tubes)
	tubes := shown.Capital(shown.Spelled(n)) + " " + shown.Plural(n, "tube")
	short := len(c.Palettes[0].Targets) - c.reached()
	switch {
	case c.nothingReachable():
		return "None of these can be mixed."
	case c.Schema == schemaCheck && short == 0:
		return fmt.Sprintf("These %s reach all.", shown.Counted(n, "tube"))
	case c.Schema == schemaCheck, len(c.Conflict) > 0:
		return fmt.Sprintf("%s: %s %s short.", tubes, shown.Spelled(short), shown.Plural(short, "colour"))
	case !c.fewestKnown():
		return tubes + ", perhaps not the fewest."
	case c.ToBuy != nil:
		return fmt.Sprintf("%s, %s to buy.", tubes, c.toBuy())
	case n == 1:
		return "One tube will do."
	}
	return tubes + ". Fewer will not do."
}

// planBrief says of the size what there is to say.
func (c *Choice) planBrief() string {
	n := shown.Spelled(len(c.Palettes[0].Tubes))
	switch {
	case c.fewestKnown() && c.ToBuy != nil:
		return c.toBuy() + " to buy"
	case c.fewestKnown():
		return n + " is the fewest"
	}
	return "with " + n
}

// areaReached is the share of the areas of colours within reach, to a tenth of a
// per cent that is only 100 where all are.
func (c *Choice) areaReached(p *Palette) string {
	reached, all := 0.0, 0.0
	for i, t := range p.Targets {
		all += c.areas[i]
		if t.Reached {
			reached += c.areas[i]
		}
	}
	if all == 0 {
		return "0"
	}
	share := float64(100 * reached / all)
	if c.reached() == len(p.Targets) {
		return "100"
	}
	return shown.Digits(min(share, 99.9), 1)
}

func (c *Choice) planTarget(t Target) PlanTarget {
	out := PlanTarget{
		Name: t.Name, Mixed: shown.Hex(t.mixed().Colour()), DE: t.recipeDE(), Tolerance: t.Tolerance, Within: t.Reached,
		Word: shown.Judgement(t.recipeDE()), Chroma: shown.Digits(t.Lab.Colour().LCh().C, 0), Recipe: t.recipe(c.name), Parts: []PlanPart{},
	}
	if !t.Reached {
		out.Miss = worstFault(t)
	}
	for _, part := range t.piles() {
		out.Parts = append(out.Parts, NewPlanPart(part, c.list(), c.problem.Light, c.problem.Surface))
	}
	slices.SortStableFunc(out.Parts, func(a, b PlanPart) int { return cmp.Compare(b.Parts, a.Parts) })
	return out
}

// worstFault is what is most wrong with a mix: "too light by 4".
func worstFault(t Target) string {
	faults := colour.Direction(t.mixed().Colour(), t.Lab.Colour()).Faults
	if len(faults) == 0 {
		return "a little of everything"
	}
	return fmt.Sprintf("%s by %s", faults[0].Fault.Brief(), shown.Digits(faults[0].By, 0))
}
