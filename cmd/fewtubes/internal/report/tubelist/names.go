package tubelist

import (
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/report/shown"
)

// List is the tubes an answer speaks of.
type List []catalog.Tube

// Tube finds a tube by id; nil when there is none.
func (l List) Tube(id string) *catalog.Tube {
	for i := range l {
		if l[i].ID == id {
			return &l[i]
		}
	}
	return nil
}

// Name is the common name of a tube for sentences, without what stands in
// brackets where no other tube has the same.
func (l List) Name(id string) string {
	t := l.Tube(id)
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

// Names are Name of each.
func (l List) Names(ids []string) []string {
	out := make([]string, len(ids))
	for i, id := range ids {
		out[i] = l.Name(id)
	}
	return out
}

// Cautions lists the tubes of these ids that carry a hazard.
func (l List) Cautions(ids []string) (out []shown.Caution) {
	for _, id := range ids {
		if t := l.Tube(id); t != nil && len(t.Hazards) > 0 {
			out = append(out, shown.Caution{Tube: t.Name, Hazards: t.Hazards, Text: t.Caution})
		}
	}
	return out
}

// Lines are all tubes as a painter reads of them.
func (l List) Lines() []Line {
	out := []Line{}
	for i := range l {
		out = append(out, NewLine(&l[i]))
	}
	return out
}

// IDs are those of all tubes.
func (l List) IDs() (out []string) {
	for i := range l {
		out = append(out, l[i].ID)
	}
	return out
}
