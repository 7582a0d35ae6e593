package report

import (
	"strings"

	"fewtubes/catalog"
)

// tubeList is the tubes an answer speaks of.
type tubeList []catalog.Tube

// tube finds a tube by id; nil when there is none.
func (l tubeList) tube(id string) *catalog.Tube {
	for i := range l {
		if l[i].ID == id {
			return &l[i]
		}
	}
	return nil
}

// name is the common name of a tube for sentences, without what stands in
// brackets where no other tube has the same.
func (l tubeList) name(id string) string {
	t := l.tube(id)
	if t == nil {
		return id
	}
	name, _, _ := strings.Cut(t.Name, " (")
	for i := range l {
		if other, _, _ := strings.Cut(l[i].Name, " ("); other == name && l[i].ID != id {
			name = t.Name
			break
		}
	}
	return catalog.InSentence(name)
}

func (l tubeList) names(ids []string) []string {
	out := make([]string, len(ids))
	for i, id := range ids {
		out[i] = l.name(id)
	}
	return out
}

// cautions lists the tubes of these ids that carry a hazard.
func (l tubeList) cautions(ids []string) (out []Caution) {
	for _, id := range ids {
		if t := l.tube(id); t != nil && len(t.Hazards) > 0 {
			out = append(out, Caution{t.Name, t.Hazards, t.Caution})
		}
	}
	return out
}

// lines are all tubes as a painter reads of them.
func (l tubeList) lines() []TubeLine {
	out := []TubeLine{}
	for i := range l {
		out = append(out, newTubeLine(&l[i]))
	}
	return out
}

func (l tubeList) ids() (out []string) {
	for i := range l {
		out = append(out, l[i].ID)
	}
	return out
}

// writeCautions ends a text: the hazards of the tubes it touches, and the note
// that goes for all.
func (l tubeList) writeCautions(b *strings.Builder, s Style) {
	heading(b, s, "Cautions")
	for _, w := range l.cautions(l.ids()) {
		b.WriteString(s.wrap("  ", 4, w.String()))
	}
	b.WriteString(s.wrap("  ", 2, SafetyNote))
}
