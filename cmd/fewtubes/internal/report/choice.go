package report

import (
	"cmp"
	"slices"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/report/drawn"
	"fewtubes/cmd/fewtubes/internal/report/piles"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/solver"
)

// Choice is the document of choose and check: what was asked and the answer,
// every number as it is shown.
type Choice struct {
	Schema    string           `json:"schema"`
	Title     string           `json:"title"`
	Status    string           `json:"status"`
	Tolerance shown.Hundredths `json:"tolerance"`
	shown.Sight
	PaintsPerMix int            `json:"paints_per_mix"`
	Prefer       string         `json:"prefer"`
	Limits       []string       `json:"limits"`
	Minimum      solver.Minimum `json:"minimum"`

	// Where fewest to buy come first: what was made least, in this order; how many
	// are to buy, which minimum is one of the palettes that buy no more; and why.
	Minimised  []string        `json:"minimised,omitempty"`
	ToBuy      *solver.Minimum `json:"to_buy,omitempty"`
	NeedsToBuy []Need          `json:"needs_to_buy,omitempty"`
	Fewest     *Fewest         `json:"fewest_in_all,omitempty"`

	Palettes   []Palette `json:"palettes"`
	Capped     bool      `json:"capped"`
	Tied       int       `json:"tied,omitempty"`        // in the usual order: palettes as good by its first key, the best among them
	TiedCapped bool      `json:"tied_capped,omitempty"` // there are more, not looked at
	Needs      []Need    `json:"needs"`
	Missed     []Miss    `json:"missed"`

	Superfluous []solver.Superfluous `json:"superfluous"`       // where limits force misses
	Smaller     *Palette             `json:"smaller,omitempty"` // reaches as much without them

	Conflict    []string        `json:"conflict"`
	Tubes       []tubelist.Line `json:"tubes"`
	MunsellNote string          `json:"munsell_note,omitempty"`
	Lessons                     // of the best palette

	problem *solver.Problem
	left    func() bool // whoever asked has gone
	areas   []float64   // of the targets, for the page
	planes  []string
	slices  []drawn.Slice // reach at single values, when asked for

	measures hand.Measures
}

// Palette is one set of tubes with its mixes, in the order of the scene.
type Palette struct {
	Tubes   []string         `json:"tubes"`
	Buy     []string         `json:"buy,omitzero"` // of them, where fewest to buy come first
	Price   shown.Cents      `json:"price"`
	WorstDE shown.Hundredths `json:"worst_de"` // of the colours that the allowed tubes reach
	MeanDE  shown.Hundredths `json:"mean_de"`  // of the same

	WorstOfAllDE shown.Hundredths `json:"worst_de_all"`
	Prepared     []Prepared       `json:"prepared,omitempty"` // before the recipes of the targets
	Bases        []Base           `json:"bases,omitempty"`    // that some of them vary
	Handled      *Handled         `json:"handled,omitempty"`
	Targets      []Target         `json:"targets"`
}

// Target is one colour of the scene and the nearest mix.
type Target struct {
	Name      string           `json:"name"`
	Lab       shown.Lab        `json:"lab"`
	Tolerance shown.Hundredths `json:"tolerance"`
	MixLab    shown.Lab        `json:"mix_lab"`
	DE        shown.Hundredths `json:"de"`
	Reached   bool             `json:"reached"`
	Shares    shown.Shares     `json:"shares"`
	Parts     piles.Amounts    `json:"parts"`
	PartsDE   shown.Hundredths `json:"parts_de"`
	LetDown   *piles.LetDown   `json:"let_down,omitempty"`
	Landing   *Landing         `json:"landing,omitempty"` // where asked for
	byHand    *hand.Recipe     // nil: the nearest parts

	Munsell    string `json:"munsell,omitempty"`
	MixMunsell string `json:"mix_munsell,omitempty"`
}

// Need says that a target takes one of these tubes.
type Need struct {
	Target string        `json:"target"`
	OneOf  []string      `json:"one_of"`
	BestDE shown.Without `json:"best_de"` // without any of them
	Proof  string        `json:"proof"`

	Unsettled string `json:"unsettled,omitempty"` // why no proof was found
	Times     int    `json:"times,omitempty"`     // as often it counts in a proof by counting
	Boxes     int    `json:"boxes,omitempty"`     // with proof draws: plausible boxes in which it holds, at least
	Spared    int    `json:"spared,omitempty"`    // plausible boxes in which it does not hold, at least
}

// Miss is a target out of reach, of the best palette or of every allowed tube.
type Miss struct {
	Target      string            `json:"target"`
	BestDE      shown.Hundredths  `json:"best_de"`
	Words       string            `json:"words"`
	Helper      string            `json:"helper,omitempty"`
	HelpDE      shown.Hundredths  `json:"help_de,omitempty"`
	Unreachable bool              `json:"unreachable"`
	Proof       string            `json:"proof"`
	Unsettled   string            `json:"unsettled,omitempty"` // why no proof was found
	Varnished   *solver.Varnished `json:"varnished,omitempty"` // out of reach for the glare of the surface alone
}

// Scene is what the answer does not carry: the words around it.
type Scene struct {
	Title     string
	Tolerance float64 // the scene's own; a target may differ
	Limits    []string

	// Left tells that whoever asked has gone; the document is then of no use, and
	// what takes long is left out. Nil: they are there to the end.
	Left func() bool

	Measures hand.Measures // of recipes
}

// NewChoice builds the document of a choose answer.
func NewChoice(scene Scene, p *solver.Problem, a *solver.Answer) *Choice {
	c := Unanswered(schemaChoose, scene, p)
	c.Status = string(a.Status)
	c.Minimum = a.Minimum
	c.Capped = a.Capped
	c.Tied, c.TiedCapped = a.Tied, a.TiedCapped
	c.count(a)
	for _, l := range a.Conflict {
		c.Conflict = append(c.Conflict, l.String())
	}
	for i := range a.Palettes {
		c.Palettes = append(c.Palettes, c.palette(&a.Palettes[i]))
	}
	for i := range c.Palettes {
		if i == 0 || p.ByHand == solver.Straight { // else the piles of each take longer than all the rest
			c.byHand(&c.Palettes[i])
		}
	}
	for _, n := range a.Needs {
		c.Needs = append(c.Needs, c.need(n))
	}
	c.countNeeds(a)
	c.addMisses(a.Unreachable)
	c.addMisses(a.Missed)
	c.addSuperfluous(a)
	c.Tubes = c.TubeLines()
	return c
}

const (
	plannedPalettes = 5 // whose recipes a document may hold: a third of a second each, of as many tubes
	plannedTubes    = 5
)

// PlanOthers gives palettes after the first the recipes a hand makes, too, for readers
// that look at more than the first: of the first five, where they hold at most five tubes.
func (c *Choice) PlanOthers() {
	if c.problem.ByHand == solver.Straight || len(c.measures.Bases) > 0 || c.measures.Propose > 0 {
		return // all are there, or take longer than all the rest
	}
	for i := 1; i < min(len(c.Palettes), plannedPalettes); i++ {
		if len(c.Palettes[i].Tubes) <= plannedTubes {
			c.byHand(&c.Palettes[i])
		}
	}
}

// NewCheck builds the document of a check: one palette as it stands, and what
// it misses.
func NewCheck(scene Scene, p *solver.Problem, palette solver.Palette, missed []solver.Miss) *Choice {
	a := &solver.Answer{Status: solver.AllReached, Palettes: []solver.Palette{palette}, Missed: missed}
	if len(missed) > 0 {
		a.Status = solver.SomeMissed
	}
	c := NewChoice(scene, p, a)
	c.Schema = schemaCheck
	return c
}

// Unanswered is a document with what was asked and no answer yet.
func Unanswered(schema string, scene Scene, p *solver.Problem) *Choice {
	c := &Choice{
		Schema:       schema,
		Title:        scene.Title,
		Tolerance:    shown.Hundredths(scene.Tolerance),
		Sight:        shown.SightOf(p.Light, p.Surface),
		PaintsPerMix: cmp.Or(p.PaintsPerMix, 4),
		Prefer:       string(cmp.Or(p.Prefer, solver.Usual)),
		Limits:       append([]string{}, scene.Limits...),
		Palettes:     []Palette{},
		Needs:        []Need{},
		Missed:       []Miss{},
		Superfluous:  []solver.Superfluous{},
		Conflict:     []string{},
		Lessons:      emptyLessons(),
		problem:      p,
		measures:     scene.Measures,
		left:         func() bool { return scene.Left != nil && scene.Left() },
	}
	for _, t := range p.Targets {
		c.areas = append(c.areas, t.Area)
		c.planes = append(c.planes, t.Plane)
	}
	return c
}

func (c *Choice) palette(p *solver.Palette) Palette {
	out := Palette{
		Tubes:   p.Tubes,
		Buy:     p.Buy,
		Price:   shown.Cents(p.Price),
		MeanDE:  shown.Nearest(p.MeanDE),
		Targets: []Target{},
	}
	for _, o := range p.Targets {
		tol := c.toleranceOf(o.Target)
		out.Targets = append(out.Targets, Target{
			Name:      o.Target,
			Lab:       shown.LabOf(o.Lab),
			Tolerance: shown.Hundredths(tol),
			MixLab:    shown.LabOf(o.Mix),
			DE:        shown.DE(o.DE, tol, o.Reached),
			Reached:   o.Reached,
			Shares:    o.Shares,
			Parts:     piles.ByParts(o.Parts),
			PartsDE:   shown.DE(o.PartsDE, tol, o.PartsDE <= tol),
		})
	}
	out.WorstDE, out.WorstOfAllDE = worstShown(p, out.Targets, p.WorstDE), worstShown(p, out.Targets, p.WorstOfAllDE)
	return out
}

// worstShown is a worst difference of a palette, the same digits as in the row
// it comes from.
func worstShown(p *solver.Palette, rows []Target, worst float64) shown.Hundredths {
	for i, o := range p.Targets {
		if o.DE == worst {
			return rows[i].DE
		}
	}
	return shown.Nearest(worst)
}

func (c *Choice) need(n solver.Need) Need {
	return Need{Target: n.Target, OneOf: n.OneOf, Proof: n.Proof, Unsettled: n.Unsettled, Spared: n.Spared, Boxes: n.Boxes, BestDE: shown.WithoutOf(n.BestDE, c.toleranceOf(n.Target))}
}

func (c *Choice) addMisses(misses []solver.Miss) {
	for _, m := range misses {
		tol := c.toleranceOf(m.Target)
		miss := Miss{
			Target: m.Target, Words: m.Words, Helper: m.Helper, Unreachable: m.Beyond, Proof: cmp.Or(m.Proof, c.proof()), Unsettled: m.Unsettled,
			BestDE: shown.DE(m.BestDE, tol, false),
		}
		if m.Helper != "" {
			miss.HelpDE = shown.DE(m.HelpDE, tol, m.HelpDE <= tol)
		}
		c.Missed = append(c.Missed, miss)
	}
}

// proof is how sure it is that a colour is out of reach, where nobody has certified it.
func (c *Choice) proof() string {
	if c.problem.ByHand != solver.Freely {
		return solver.Counted
	}
	return solver.Searched
}

func (c *Choice) toleranceOf(target string) float64 {
	for i := range c.problem.Targets {
		if c.problem.Targets[i].Name == target {
			return c.problem.Targets[i].Tolerance
		}
	}
	return float64(c.Tolerance)
}

func (c *Choice) list() tubelist.List { return c.problem.Tubes }

func (c *Choice) tube(id string) *catalog.Tube { return c.list().Tube(id) }

// Name is what a sentence calls a tube.
func (c *Choice) name(id string) string { return c.list().Name(id) }

func (c *Choice) Names(ids []string) []string { return c.list().Names(ids) }

// TubeLines are the tubes any listed palette holds, in catalogue order.
func (c *Choice) TubeLines() []tubelist.Line {
	out := []tubelist.Line{}
	for i := range c.problem.Tubes {
		t := &c.problem.Tubes[i]
		if slices.ContainsFunc(c.Palettes, func(p Palette) bool { return slices.Contains(p.Tubes, t.ID) }) {
			out = append(out, tubelist.NewLine(t))
		}
	}
	return out
}

// Coarse reports whether the mix is within reach but not in these few parts, as
// happens where a strong paint is wanted by the trace.
func (t Target) Coarse() bool { return t.Reached && t.recipeDE() > t.Tolerance }

// ShowMunsell adds the notation of every colour and of its mix.
func (c *Choice) ShowMunsell() {
	for i := range c.Palettes {
		for k := range c.Palettes[i].Targets {
			t := &c.Palettes[i].Targets[k]
			t.Munsell, t.MixMunsell = shown.Munsell(t.Lab.Colour()), shown.Munsell(t.MixLab.Colour())
		}
	}
	c.MunsellNote = shown.MunsellNote(c.Light)
}
