package mixing

import (
	"slices"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// Table is the tubes at hand and how their mixes are seen.
type Table struct {
	Tubes []catalog.Tube
	gamut.Options

	mixer *gamut.Mixer
	index map[string]int
}

// NewTable lays out tubes with distinct ids.
func NewTable(tubes []catalog.Tube, sight gamut.Options) (*Table, error) {
	t := &Table{Tubes: slices.Clone(tubes), Options: sight, index: map[string]int{}}
	paints := make([]film.Paint, len(tubes))
	for i := range tubes {
		paints[i] = tubes[i].Paint
		t.index[tubes[i].ID] = i
	}
	var err error
	t.mixer, err = gamut.NewMixer(paints, sight)
	if err != nil {
		return nil, err
	}
	t.PaintsPerMix = t.mixer.PaintsPerMix()
	return t, nil
}

// Tube is the tube of an id, which must lie on the table.
func (t *Table) Tube(id string) *catalog.Tube { return &t.Tubes[t.place(id)] }

func (t *Table) place(id string) int {
	i, ok := t.index[id]
	if !ok {
		panic("mixing: " + id + " is not on the table")
	}
	return i
}

// places are the indices and volumes of amounts.
func (t *Table) places(amounts []Amount) (paints []int, volumes []float64) {
	for _, a := range amounts {
		paints = append(paints, t.place(a.ID))
		volumes = append(volumes, a.Parts)
	}
	return paints, volumes
}

// Colour is what amounts dry to.
func (t *Table) Colour(amounts []Amount) colour.Lab {
	return t.mixer.Evaluate(t.places(amounts))
}

// Used are the tubes of these ids, each once, in the order of the table.
func (t *Table) Used(ids ...string) (out []catalog.Tube) {
	for _, tube := range t.Tubes {
		if slices.Contains(ids, tube.ID) {
			out = append(out, tube)
		}
	}
	return out
}

// Order is the order in which to put amounts together, and the CIEDE2000 by
// which a twentieth of the pile more of the last moves it.
func (t *Table) Order(amounts []Amount) (ids []string, pull float64) {
	for _, step := range t.mixer.MixingOrder(t.places(amounts)) {
		ids, pull = append(ids, t.Tubes[step.Paint].ID), step.Pull
	}
	return ids, pull
}

func ids(amounts []Amount) (out []string) {
	for _, a := range amounts {
		out = append(out, a.ID)
	}
	return out
}
