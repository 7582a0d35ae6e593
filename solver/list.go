package solver

import (
	"context"

	"fewtubes/gamut/set"

	"github.com/go-air/gini/z"
)

// list finds the smallest palettes, at most as many as wished for. By price,
// hazards or lightfastness they come in exact order of that sum. By accuracy
// the favourite among all of them is found and listed, and others in any order.
func (c *core) list(ctx context.Context, h *hunt, d *decision, w *wish, first set.Set) error {
	weights := costs(w.prefer, c.box.tubes, d.rules, d.size)
	guard := h.m.lit()
	q := question{size: d.size, lits: []z.Lit{guard}}
	if weights == nil {
		return c.listAll(ctx, h, d, w, first, q)
	}
	return h.listBy(ctx, d, w.most, q, &tubeSum{weights: weights})
}

// listBy lists the palettes that answer the question, at most so many, in exact
// order of a sum.
func (h *hunt) listBy(ctx context.Context, d *decision, most int, q question, s *tubeSum) error {
	for len(d.palettes) < most {
		palette, cost, err := h.cheapest(ctx, q, s)
		if err != nil {
			return err
		}
		if palette == nil {
			return nil
		}
		if err := h.listAt(ctx, d, most, palette, question{size: q.size, lits: q.lits, bounds: []bound{{s, cost}}}); err != nil {
			return err
		}
	}
	return h.more(ctx, d, q)
}

// listAt lists a palette and all others that answer the question, blocking each.
func (h *hunt) listAt(ctx context.Context, d *decision, most int, palette set.Set, q question) error {
	for {
		d.palettes = append(d.palettes, palette)
		h.block(palette, q.lits[0])
		if len(d.palettes) == most {
			return nil
		}
		next, out, err := h.find(ctx, q)
		if err != nil || out == failed {
			return err
		}
		palette = next
	}
}

// more notes whether there is another palette besides those listed.
func (h *hunt) more(ctx context.Context, d *decision, q question) error {
	_, out, err := h.find(ctx, q)
	d.capped = out == satisfied
	return err
}

// listAll lists palettes from the favourite on, in any order. That there is no
// other is said at search effort: the proof of the minimum does not rest on it.
func (c *core) listAll(ctx context.Context, h *hunt, d *decision, w *wish, first set.Set, q question) error {
	q.unsure = true
	best, err := c.favourite(ctx, h, d, first)
	if err != nil {
		return err
	}
	if err := h.listAt(ctx, d, w.most, best, q); err != nil || len(d.palettes) < w.most {
		return err
	}
	return h.more(ctx, d, q)
}
