package tubelist

import (
	"slices"
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

// Cautions lists the tubes of these ids that carry a hazard, or may not last.
func (l List) Cautions(ids []string) (out []shown.Caution) {
	for _, id := range ids {
		t := l.Tube(id)
		if t == nil {
			continue
		}
		if w := NewLine(t).caution(); len(w.Hazards) > 0 {
			out = append(out, w)
		}
	}
	return out
}

// Mind are the hazards of a tube and what its film may come to, in a word each.
func (t Line) Mind() []string { return slices.Concat(t.Hazards, t.Fails) }

// caution is what to mind about a tube. That no hazard is reported goes without saying
// where something else is to be minded.
func (t Line) caution() shown.Caution {
	text := t.Caution
	if len(t.Fails) > 0 && len(t.Hazards) == 0 {
		text = ""
	}
	return shown.Caution{Tube: t.Name, Hazards: t.Mind(), Text: strings.TrimSpace(text + " " + t.Lasting)}
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
