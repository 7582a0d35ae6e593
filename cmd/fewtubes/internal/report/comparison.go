package report

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"fewtubes/gamut/colour"
	"fewtubes/solver"
)

// Comparison is the document of compare: palettes side by side.
type Comparison struct {
	Schema    string       `json:"schema"`
	Title     string       `json:"title"`
	Tolerance Hundredths   `json:"tolerance"`
	Light     string       `json:"light"`
	Limits    []string     `json:"limits"`
	Palettes  []Compared   `json:"palettes"`
	Differ    []Difference `json:"differ"`
	Tubes     []TubeLine   `json:"tubes"`

	choice *Choice // the same palettes as choose reports them
}

// Compared is one palette of a comparison.
type Compared struct {
	Name          string     `json:"name"`
	Tubes         []string   `json:"tubes"`
	Price         Cents      `json:"price"`
	Hazards       []string   `json:"hazards"`
	Reached       int        `json:"reached"`
	AreaReached   Millionths `json:"area_reached"` // fraction of the scene
	WorstDE       Hundredths `json:"worst_de"`
	MeanDE        Hundredths `json:"mean_de"`
	GreensWorstDE Hundredths `json:"greens_worst_de"`
	Volume        int        `json:"volume"` // of the gamut, cubic CIELAB units; 0: not asked
	Targets       []Target   `json:"targets"`
}

// Difference is a target that the palettes do not serve alike.
type Difference struct {
	Target string     `json:"target"`
	By     Hundredths `json:"by"`    // worst less best
	Mixes  []Target   `json:"mixes"` // one per palette
}

// Named is a palette to compare and what it goes by.
type Named struct {
	Name    string
	Palette solver.Palette
	Volume  float64 // of its gamut, cubic CIELAB units; 0: unknown
}

const schemaCompare = "fewtubes compare 1"

// NewComparison builds the document of palettes that answer the same targets.
func NewComparison(scene Scene, p *solver.Problem, named []Named) *Comparison {
	c := newChoice(schemaCompare, scene, p)
	out := &Comparison{
		Schema: c.Schema, Title: c.Title, Tolerance: c.Tolerance, Light: c.Light, Limits: c.Limits,
		Differ: []Difference{}, choice: c,
	}
	for i := range named {
		palette := c.palette(&named[i].Palette)
		c.Palettes = append(c.Palettes, palette)
		out.Palettes = append(out.Palettes, c.compared(named[i], palette))
	}
	out.addDifferences()
	out.Tubes = c.tubeLines()
	return out
}

// AnyMissed reports whether one of the palettes misses a colour.
func (out *Comparison) AnyMissed() bool {
	return slices.ContainsFunc(out.Palettes, func(p Compared) bool { return p.Reached < len(p.Targets) })
}

func (c *Choice) compared(n Named, p Palette) Compared {
	out := Compared{
		Name: n.Name, Tubes: p.Tubes, Price: p.Price, WorstDE: p.WorstDE, MeanDE: p.MeanDE,
		Hazards: c.hazards(p), Volume: int(math.Round(n.Volume)), Targets: p.Targets,
	}
	area, reached := 0.0, 0.0
	for i, t := range p.Targets {
		area += c.areas[i]
		if t.Reached {
			out.Reached++
			reached += c.areas[i]
		}
		if isGreen(t.Lab.Colour()) {
			out.GreensWorstDE = max(out.GreensWorstDE, t.DE)
		}
	}
	if area > 0 {
		out.AreaReached = Millionths(math.Round(1e4*reached/area) / 1e4)
	}
	return out
}

// isGreen takes the greens of a landscape as the plain words for colours do:
// from olive to blue-green.
func isGreen(c colour.Lab) bool {
	name := colour.Name(c).String()
	return strings.Contains(name, "green") || strings.Contains(name, "olive")
}

// hazards of a palette, each once, sorted.
func (c *Choice) hazards(p Palette) []string {
	out := []string{}
	for _, t := range c.linesOf(p) {
		out = append(out, t.Hazards...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// telling is the gap between the best and the worst palette, CIEDE2000, from
// which a target is worth a line although all reach it: near the least that is
// seen side by side (common practice, no source).
const telling = 1.0

// addDifferences lists the targets some palettes reach and others miss, or that
// they reach unequally well, largest gap first.
func (out *Comparison) addDifferences() {
	for i, t := range out.Palettes[0].Targets {
		d := Difference{Target: t.Name}
		least, most, reached := math.Inf(1), 0.0, 0
		for _, p := range out.Palettes {
			mix := p.Targets[i]
			d.Mixes = append(d.Mixes, mix)
			least, most = min(least, float64(mix.DE)), max(most, float64(mix.DE))
			if mix.Reached {
				reached++
			}
		}
		d.By = nearestHundredth(most - least)
		if d.By >= telling || (reached > 0 && reached < len(out.Palettes)) {
			out.Differ = append(out.Differ, d)
		}
	}
	slices.SortStableFunc(out.Differ, func(a, b Difference) int { return cmp.Compare(b.By, a.By) })
}
