package report

import (
	"cmp"
	"math"
	"slices"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/solver"
)

// Comparison is the document of compare: palettes side by side.
type Comparison struct {
	Schema    string           `json:"schema"`
	Title     string           `json:"title"`
	Tolerance shown.Hundredths `json:"tolerance"`
	shown.Sight
	Limits   []string        `json:"limits"`
	Palettes []Compared      `json:"palettes"`
	Differ   []Difference    `json:"differ"`
	Tubes    []tubelist.Line `json:"tubes"`

	choice    *Choice // the same palettes as choose reports them
	reachable int     // colours that all tubes together reach
}

// Compared is one palette of a comparison.
type Compared struct {
	Name          string           `json:"name"`
	Tubes         []string         `json:"tubes"`
	Price         shown.Cents      `json:"price"`
	Hazards       []string         `json:"hazards"`
	Reached       int              `json:"reached"`
	AreaReached   shown.Millionths `json:"area_reached"` // fraction of the scene
	WorstDE       shown.Hundredths `json:"worst_de"`
	MeanDE        shown.Hundredths `json:"mean_de"`
	WorstOfAllDE  shown.Hundredths `json:"worst_de_all"`
	GreensWorstDE shown.Hundredths `json:"greens_worst_de"`
	Volume        int              `json:"volume"` // of the gamut, cubic CIELAB units; 0: not asked
	Holds         int              `json:"holds"`  // plausible boxes of solver.UsualDraws
	Covered                        // of the scene's photographs
	Targets       []Target         `json:"targets"`
}

// Difference is a target that the palettes do not serve alike.
type Difference struct {
	Target string           `json:"target"`
	By     shown.Hundredths `json:"by"`    // worst less best
	Mixes  []Target         `json:"mixes"` // one per palette
}

const schemaCompare = "fewtubes compare 1"

// NewComparison builds the document of palettes that answer the same targets.
func NewComparison(scene Scene, p *solver.Problem, compared *solver.Comparison) *Comparison {
	c := Unanswered(schemaCompare, scene, p)
	out := &Comparison{
		Schema: c.Schema, Title: c.Title, Tolerance: c.Tolerance, Sight: c.Sight, Limits: c.Limits,
		Differ: []Difference{}, choice: c, reachable: compared.Reachable,
	}
	for i := range compared.Palettes {
		q := &compared.Palettes[i]
		palette := c.palette(&q.Palette)
		c.byHand(&palette)
		c.Palettes = append(c.Palettes, palette)
		out.Palettes = append(out.Palettes, Compared{
			Name: q.Name, Tubes: palette.Tubes, Price: palette.Price, Hazards: q.Hazards, Reached: q.Reached,
			AreaReached: shown.Millionths(math.Round(q.AreaReached*1e4) / 1e4),
			WorstDE:     palette.WorstDE, MeanDE: palette.MeanDE, WorstOfAllDE: palette.WorstOfAllDE, GreensWorstDE: shown.Nearest(q.GreensWorstDE),
			Volume: int(math.Round(q.Volume)), Holds: q.Holds, Targets: palette.Targets,
		})
	}
	out.addDifferences(compared.Differ)
	out.Tubes = c.TubeLines()
	return out
}

// AnyMissed reports whether one of the palettes misses a colour.
func (out *Comparison) AnyMissed() bool {
	return slices.ContainsFunc(out.Palettes, func(p Compared) bool { return p.Reached < len(p.Targets) })
}

// addDifferences lists the targets that the palettes do not serve alike, largest
// gap first.
func (out *Comparison) addDifferences(targets []string) {
	for i, t := range out.Palettes[0].Targets {
		if !slices.Contains(targets, t.Name) {
			continue
		}
		d := Difference{Target: t.Name}
		least, most := t.DE, t.DE
		for _, p := range out.Palettes {
			d.Mixes = append(d.Mixes, p.Targets[i])
			least, most = min(least, p.Targets[i].DE), max(most, p.Targets[i].DE)
		}
		d.By = shown.Nearest(float64(most - least))
		out.Differ = append(out.Differ, d)
	}
	slices.SortStableFunc(out.Differ, func(a, b Difference) int { return cmp.Compare(b.By, a.By) })
}
