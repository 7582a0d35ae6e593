package choice

import (
	"context"
	"slices"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

// list finds the smallest palettes, at most as many as wished for. By price,
// hazards or lightfastness they come in exact order of that sum. By accuracy
// the favourite among all of them is found and listed, and others in any order.
func (c *Core) list(ctx context.Context, h *Hunt, d *Decision, w *Wish, first set.Set) error {
	q := cover.Question{Size: d.Size, On: []cover.Switch{h.Switch()}}
	if w.Order.Weigh == nil {
		return c.listAll(ctx, h, d, w, first, q)
	}
	return h.listBy(ctx, d, w.Most, q, cover.NewSum(w.Order.Weigh(d.Rules, d.Size)))
}

// listBy lists the palettes that answer the question, at most so many, in exact
// order of a sum.
func (h *Hunt) listBy(ctx context.Context, d *Decision, most int, q cover.Question, s *cover.Sum) error {
	for len(d.Palettes) < most {
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
func (h *Hunt) listAt(ctx context.Context, d *Decision, most int, palette set.Set, q cover.Question) error {
	for {
		d.Palettes = append(d.Palettes, palette)
		h.Block(palette, q.On[0])
		if len(d.Palettes) == most {
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
func (h *Hunt) more(ctx context.Context, d *Decision, q cover.Question) error {
	_, out, err := h.find(ctx, q)
	d.Capped = out == cover.Satisfied
	return err
}

// listAll lists palettes from the favourite on, in any order. That there is no
// other is said at search effort: the proof of the minimum does not rest on it.
func (c *Core) listAll(ctx context.Context, h *Hunt, d *Decision, w *Wish, first set.Set, q cover.Question) error {
	q.Unsure = true
	best, err := c.favourite(ctx, h, d, first)
	if err != nil {
		return err
	}
	if err := h.listAt(ctx, d, w.Most, best, q); err != nil || len(d.Palettes) < w.Most {
		return err
	}
	return h.more(ctx, d, q)
}

// Fewest are the smallest palettes under the rules that reach some targets, the
// favourite first, at most so many.
func (c *Core) Fewest(ctx context.Context, r *cover.Rules, targets []int, most int) (palettes []set.Set, capped bool, err error) {
	err = Retry(func() error {
		d := &Decision{Rules: r, Reachable: targets}
		h := c.Hunt(r)
		h.demand(&Demand{targets: targets, tolerance: c.Tolerance})
		smallest, _, err := h.smallest(ctx, c.watching(h, d, nil))
		if err != nil || smallest == nil {
			return err
		}
		d.Size = smallest.Len()
		if err := c.list(ctx, h, d, &Wish{Most: most}, smallest); err != nil {
			return err
		}
		palettes, capped = d.Palettes, d.Capped
		_, err = c.needs(ctx, d)
		return err
	})
	return palettes, capped, err
}

// cheapest is a palette that answers the question at the least sum, or nil.
func (h *Hunt) cheapest(ctx context.Context, q cover.Question, s *cover.Sum) (best set.Set, cost int, err error) {
	return h.Cheaper(ctx, q, s, nil)
}

// Cheaper is cheapest where a palette that answers the question is known
// already, or nil.
func (h *Hunt) Cheaper(ctx context.Context, q cover.Question, s *cover.Sum, known set.Set) (best set.Set, cost int, err error) {
	if known != nil {
		if best, cost = known, s.Of(known); cost == 0 {
			return best, cost, nil
		}
		q = below(q, s, cost)
	}
	for {
		palette, out, err := h.find(ctx, q)
		if err != nil || out == cover.Failed {
			return best, cost, err
		}
		best, cost = palette, s.Of(palette)
		if cost == 0 {
			return best, cost, nil
		}
		q = below(q, s, cost)
	}
}

// below is the question with a sum less than cost.
func below(q cover.Question, s *cover.Sum, cost int) cover.Question {
	q.Bounds = append(slices.Clip(q.Bounds), cover.Bound{Sum: s, Most: cost - 1})
	return q
}
