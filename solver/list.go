package solver

import (
	"context"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

// list finds the smallest palettes, at most as many as wished for. By price,
// hazards or lightfastness they come in exact order of that sum. By accuracy
// the favourite among all of them is found and listed, and others in any order.
func (c *core) list(ctx context.Context, h *hunt, d *decision, w *wish, first set.Set) error {
	q := cover.Question{Size: d.size, On: []cover.Switch{h.Switch()}}
	if w.order.weigh == nil {
		return c.listAll(ctx, h, d, w, first, q)
	}
	return h.listBy(ctx, d, w.most, q, cover.NewSum(w.order.weigh(d.rules, d.size)))
}

// listBy lists the palettes that answer the question, at most so many, in exact
// order of a sum.
func (h *hunt) listBy(ctx context.Context, d *decision, most int, q cover.Question, s *cover.Sum) error {
	for len(d.palettes) < most {
		palette, cost, err := h.cheapest(ctx, q, s)
		if err != nil {
			return err
		}
		if palette == nil {
			return nil
		}
		if err := h.listAt(ctx, d, most, palette, cover.Question{Size: q.Size, On: q.On, Bounds: []cover.Bound{{Sum: s, Most: cost}}}); err != nil {
			return err
		}
	}
	return h.more(ctx, d, q)
}

// listAt lists a palette and all others that answer the question, blocking each.
func (h *hunt) listAt(ctx context.Context, d *decision, most int, palette set.Set, q cover.Question) error {
	for {
		d.palettes = append(d.palettes, palette)
		h.Block(palette, q.On[0])
		if len(d.palettes) == most {
			return nil
		}
		next, out, err := h.find(ctx, q)
		if err != nil || out == cover.Failed {
			return err
		}
		palette = next
	}
}

// more notes whether there is another palette besides those listed.
func (h *hunt) more(ctx context.Context, d *decision, q cover.Question) error {
	_, out, err := h.find(ctx, q)
	d.capped = out == cover.Satisfied
	return err
}

// listAll lists palettes from the favourite on, in any order. That there is no
// other is said at search effort: the proof of the minimum does not rest on it.
func (c *core) listAll(ctx context.Context, h *hunt, d *decision, w *wish, first set.Set, q cover.Question) error {
	q.Unsure = true
	best, err := c.favourite(ctx, h, d, first)
	if err != nil {
		return err
	}
	if err := h.listAt(ctx, d, w.most, best, q); err != nil || len(d.palettes) < w.most {
		return err
	}
	return h.more(ctx, d, q)
}
