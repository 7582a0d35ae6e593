package packing

import (
	"cmp"
	"errors"
	"slices"

	"fewtubes/catalog"
	"fewtubes/solver"
)

// Plan is what to pack. Figures are rounded as they are shown, each by itself:
// the total may differ from the sum of the lines in its last digit.
type Plan struct {
	Schema   string   `json:"schema"`
	Title    string   `json:"title"`
	WidthCM  float64  `json:"width_cm"`
	HeightCM float64  `json:"height_cm"`
	Coats    int      `json:"coats"`
	FilmMM   float64  `json:"film_mm"`
	Waste    float64  `json:"waste"`
	LaidML   float64  `json:"laid_ml"`
	TotalML  float64  `json:"total_ml"`
	TotalG   int      `json:"total_g"` // of the full tubes
	Tubes    []Tube   `json:"tubes"`   // in catalogue order
	Unused   []string `json:"unused"`  // in the palette, in no recipe
	Missed   []string `json:"missed"`  // colours out of reach of the palette
	Order    []Drying `json:"drying_order"`
	Cautions []string `json:"cautions"`
	Travel   []string `json:"travel"`
	Practice []string `json:"common_practice"` // figures that have no source
}

// Tube is what to take of one paint.
type Tube struct {
	ID      string  `json:"id"`
	Name    string  `json:"name"`
	ML      float64 `json:"ml"`
	Take    []Take  `json:"take"`
	Grams   int     `json:"g"`
	Density float64 `json:"density_g_ml"`
	Drying  string  `json:"drying"`
}

// Take is a number of tubes of one size.
type Take struct {
	Count  int     `json:"count"`
	SizeML float64 `json:"size_ml"`
}

const schema = "fewtubes pack 1"

// New plans the picture: the recipes of a palette for the targets of the
// problem, in the order of the problem.
func New(title string, job Job, p *solver.Problem, palette *solver.Palette) (*Plan, error) {
	if err := job.Check(); err != nil {
		return nil, err
	}
	if len(palette.Targets) != len(p.Targets) || len(p.Targets) == 0 {
		return nil, errors.New("packing: the palette answers another problem")
	}
	plan := &Plan{
		Schema: schema, Title: title,
		WidthCM: job.WidthCM, HeightCM: job.HeightCM, Coats: job.Coats, FilmMM: job.FilmMM, Waste: job.Waste,
		LaidML: tenths(job.laidML()), TotalML: tenths(job.SqueezedML()),
		Tubes: []Tube{}, Unused: []string{}, Missed: []string{}, Cautions: []string{},
	}
	need := volumes(job.SqueezedML(), p.Targets, palette.Targets)
	for i := range p.Tubes {
		t := &p.Tubes[i]
		if !slices.Contains(palette.Tubes, t.ID) {
			continue
		}
		if need[t.ID] == 0 {
			plan.Unused = append(plan.Unused, t.ID)
			continue
		}
		plan.add(t, need[t.ID])
	}
	for _, o := range palette.Targets {
		if !o.Reached {
			plan.Missed = append(plan.Missed, o.Target)
		}
	}
	plan.Order = dryingOrder(plan.Tubes)
	plan.Travel = travel
	plan.Practice = practice(job)
	return plan, nil
}

// volumes shares ml among the tubes. Colours without any area count alike.
func volumes(ml float64, targets []solver.Target, mixes []solver.Outcome) map[string]float64 {
	total := 0.0
	for _, t := range targets {
		total += t.Area
	}
	need := map[string]float64{}
	for i, t := range targets {
		share := 1 / float64(len(targets))
		if total > 0 {
			share = t.Area / total
		}
		for id, fraction := range fractions(&mixes[i]) {
			need[id] += float64(ml * share * fraction)
		}
	}
	return need
}

// fractions are the volume shares of a mix. Those of its parts stand in only
// where it has none: parts leave out the traces a strong tinter is used in.
func fractions(o *solver.Outcome) map[string]float64 {
	out := map[string]float64{}
	for _, s := range o.Shares {
		out[s.ID] = s.Fraction
	}
	if len(out) > 0 {
		return out
	}
	sum := 0
	for _, p := range o.Parts {
		sum += p.Parts
	}
	for _, p := range o.Parts {
		out[p.ID] = float64(p.Parts) / float64(sum)
	}
	return out
}

func (p *Plan) add(t *catalog.Tube, ml float64) {
	// What rounds to nothing is still squeezed out.
	tube := Tube{ID: t.ID, Name: t.Name, ML: max(tenths(ml), 0.1), Drying: t.Drying, Density: cmp.Or(t.Density, usualDensity)}
	tube.Take = take(ml)
	tube.Grams = grams(tube.Take, tube.Density)
	p.Tubes = append(p.Tubes, tube)
	p.TotalG += tube.Grams
	if len(t.Hazards) > 0 || t.Caution != "" || t.Lasting() != "" {
		p.Cautions = append(p.Cautions, caution(t))
	}
}
