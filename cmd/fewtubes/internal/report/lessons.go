package report

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/gamut/colour"
	"fewtubes/solver"
)

// Lessons are what the solver can say about the best palette beyond its mixes.
// Each part may be missing.
type Lessons struct {
	Why         []Reason           `json:"why"`
	Disjoint    []Need             `json:"disjoint_needs"`  // as many as the minimum, no tube in two of them
	Count       *Count             `json:"count,omitempty"` // where there is a proof by counting
	Swaps       []solver.Swap      `json:"swaps"`
	Additions   []solver.Additions `json:"additions"`
	Addition    *Addition          `json:"addition,omitempty"` // the first of one tube
	AtHome      *solver.AtHome     `json:"at_home,omitempty"`
	Spare       *Spare             `json:"spare,omitempty"`
	Fragile     []Fragile          `json:"fragile"`
	SecondLight *SecondLight       `json:"second_light,omitempty"`
	Doubt       *solver.Doubt      `json:"doubt,omitempty"`
	Sure        *Sure              `json:"holds,omitempty"`
	SwatchFirst *SwatchFirst       `json:"swatch_first,omitempty"`
}

// Reason is a tube and what would be lost without it.
type Reason struct {
	Tube    string `json:"tube"`
	Targets []Loss `json:"targets"`
}

// Loss is a target and how near one comes without the tube.
type Loss struct {
	Target string        `json:"target"`
	BestDE shown.Without `json:"best_de"`
}

// Fragile is a target whose reach may not hold at the easel: why is hair,
// estimated or trace.
type Fragile struct {
	Target string           `json:"target"`
	Why    string           `json:"why"`
	Tube   string           `json:"tube,omitempty"`
	By     shown.Millionths `json:"by"` // tolerance less difference, or the share in the recipe shown
}

// SecondLight is how the mixes change from the light of the scene to another.
type SecondLight struct {
	Light  string   `json:"light"`
	Apart  []string `json:"apart"` // the two targets whose shifts are most unlike
	Drifts []Drift  `json:"drifts"`
}

// Drift is the change of one mix, each colour against its light's own white.
type Drift struct {
	Target string           `json:"target"`
	From   shown.Lab        `json:"from"`
	To     shown.Lab        `json:"to"`
	DE     shown.Hundredths `json:"de"`
	Words  string           `json:"words"`

	faults []colour.Amount
}

// Learned is what the solver found for the lessons; what is nil is left out.
type Learned struct {
	Why         []solver.Reason
	Disjoint    []solver.Need
	Swaps       []solver.Swap
	Additions   []solver.Additions
	AtHome      *solver.AtHome
	Spare       *solver.Spare
	Fragile     []solver.Fragile
	SecondLight string
	Drifts      []solver.Drift
	Apart       [2]int
	Varnished   []solver.Varnished
	Doubt       *solver.Doubt
}

// Teach adds lessons to the document.
func (c *Choice) Teach(l *Learned) {
	for _, r := range l.Why {
		c.Why = append(c.Why, Reason{r.Tube, c.losses(r.Targets)})
	}
	for _, n := range l.Disjoint {
		if c.Minimum.Proof == solver.Certified && n.Proof != solver.Certified {
			c.Disjoint = c.Disjoint[:0] // the needs that are theorems are the ones to show
			break
		}
		c.Disjoint = append(c.Disjoint, c.need(n))
	}
	c.Doubt = l.Doubt
	c.Swaps = append(c.Swaps, l.Swaps...)
	c.addAdditions(l.Additions)
	c.addAtHome(l)
	c.Fragile = append(c.Fragile, c.asShown(l.Fragile)...)
	if len(l.Drifts) > 0 {
		c.SecondLight = secondLight(l)
	}
	for _, v := range l.Varnished {
		i := slices.IndexFunc(c.Missed, func(m Miss) bool { return m.Target == v.Target })
		c.Missed[i].Varnished = &v
	}
}

func (c *Choice) losses(lost []solver.Loss) []Loss {
	out := []Loss{}
	for _, l := range lost {
		out = append(out, Loss{l.Target, shown.WithoutOf(l.BestDE, c.toleranceOf(l.Target))})
	}
	return out
}

func secondLight(l *Learned) *SecondLight {
	s := &SecondLight{Light: l.SecondLight, Apart: []string{}, Drifts: []Drift{}}
	for _, d := range l.Drifts {
		s.Drifts = append(s.Drifts, Drift{d.Target, shown.LabOf(d.From), shown.LabOf(d.To), shown.Nearest(d.Miss.DE), d.Miss.String(), d.Miss.Faults})
	}
	if l.Apart[0] != l.Apart[1] {
		s.Apart = []string{l.Drifts[l.Apart[0]].Target, l.Drifts[l.Apart[1]].Target}
	}
	return s
}

// emptyLessons has lists where lists are promised.
func emptyLessons() Lessons {
	return Lessons{Why: []Reason{}, Disjoint: []Need{}, Swaps: []solver.Swap{}, Additions: []solver.Additions{}, Fragile: []Fragile{}}
}

// WhySentence says what a tube is there for.
func (c *Choice) WhySentence(r Reason) string {
	switch {
	case len(r.Targets) > 0:
	case slices.ContainsFunc(c.Superfluous, func(x solver.Superfluous) bool { return x.Tube == r.Tube }):
		return "no colour needs it; it only brings nearer what is out of reach"
	default:
		return "no colour needs it while the others are there"
	}
	return shown.InARow(told(r.Targets, false, func(t Loss) string { return fmt.Sprintf("%s (%s)", t.Target, t.BestDE) }))
}

// mostTold are named for each tube; the JSON holds them all.
const mostTold = 5

// told are the words for the first of many, and how many more there are, or that there
// are more than all these.
func told[T any](of []T, capped bool, words func(T) string) (out []string) {
	for _, x := range of[:min(len(of), mostTold)] {
		out = append(out, words(x))
	}
	if more := len(of) - mostTold; more > 0 {
		over := ""
		if capped {
			over = "over "
		}
		out = append(out, fmt.Sprintf("%s%d more", over, more))
	}
	return out
}

// SwapSentence says what could stand in for a tube and what it costs.
func (c *Choice) SwapSentence(s solver.Swap) string {
	if len(s.StandIns) == 0 {
		return "nothing can stand in for it"
	}
	return strings.Join(told(s.StandIns, false, func(in solver.StandIn) string {
		return fmt.Sprintf("%s (worst %s, mean %s, price %s%s)", c.name(in.Tube), in.WorstDE, in.MeanDE, in.Price, holdsOf(in.Holds, in.Draws))
	}), ", ")
}

// LightSentence names the two mixes whose relation changes most.
func (c *Choice) LightSentence() string {
	s := c.SecondLight
	if s == nil || len(s.Apart) != 2 {
		return ""
	}
	var words []string
	for _, name := range s.Apart {
		for _, d := range s.Drifts {
			if d.Target == name {
				words = append(words, fmt.Sprintf("%s moves by ΔE00 %s (%s)", name, d.DE, asShift(d.faults)))
			}
		}
	}
	return fmt.Sprintf("From light %s to light %s the mixes drift apart: %s. Judge the values of these two by the light the picture will hang in.",
		c.Light, s.Light, strings.Join(words, ", while "))
}

// shifts are faults said of a change.
var shifts = map[colour.Fault]string{
	colour.TooStrong: "stronger", colour.TooDull: "weaker", colour.TooDark: "darker", colour.TooLight: "lighter",
	colour.TooWarm: "warmer", colour.TooCool: "cooler", colour.TooRed: "redder", colour.TooYellow: "yellower",
	colour.TooGreen: "greener", colour.TooViolet: "more violet",
}

// asShift says in words how a mix changed.
func asShift(faults []colour.Amount) string {
	if len(faults) == 0 {
		return "hardly"
	}
	words := make([]string, len(faults))
	for i, f := range faults {
		words[i] = fmt.Sprintf("%s by %.1f", shifts[f.Fault], f.By)
	}
	return strings.Join(words, ", ")
}
