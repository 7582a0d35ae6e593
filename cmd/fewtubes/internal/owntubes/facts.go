package owntubes

import (
	"slices"
	"strings"

	"fewtubes/catalog"
)

// brings is what an entry brings along by the tube it stands for, whose id it has
// or which it is like, by the pigments that this one does not hold, and by what
// it is mixed of.
func (e *Tube) brings(t *catalog.Tube, known bool, c *catalog.Catalogue, own func(string) *catalog.Tube) (facts catalog.Facts) {
	if known {
		facts = t.Facts()
	}
	for _, p := range e.Pigments {
		if of, ok := c.Pigment(p); ok && !(known && slices.Contains(t.Pigments, p)) {
			facts = facts.And(of)
		}
	}
	for _, p := range e.Mix {
		if part := own(p.Tube); part != nil {
			facts = facts.And(part.Facts())
		} else if part, err := c.Get(p.Tube); err == nil {
			facts = facts.And(part.Facts())
		}
	}
	return facts
}

// warn puts what an entry brings along into its tube. The file may add hazards but
// not take any away; its caution and lightfastness stand as written.
func (e *Tube) warn(t *catalog.Tube, brought catalog.Facts) {
	t.Hazards = brought.And(catalog.Facts{Hazards: e.Hazards}).Hazards
	if e.Caution == "" && len(brought.Cautions) > 0 {
		t.Caution = strings.Join(brought.Cautions, " ")
	}
	if e.Lightfastness == "" {
		t.Lightfastness = brought.Lightfastness
	}
}
