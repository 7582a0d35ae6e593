package report

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/solver"
)

// equals are palettes that differ by swaps: one tube of each slot, in any combination.
type equals struct {
	slots    [][]string // ids
	palettes []Palette
}

// grouped puts palettes together that differ by swaps, in order of the first of each
// group; every one stands in one group.
func grouped(all []Palette) (out []equals) {
	key := func(ids []string) string { return strings.Join(slices.Sorted(slices.Values(ids)), " ") }
	left := map[string]bool{}
	var tubes []string
	for _, p := range all {
		left[key(p.Tubes)] = true
		for _, id := range p.Tubes {
			if !slices.Contains(tubes, id) {
				tubes = append(tubes, id)
			}
		}
	}
	for _, p := range all {
		if !left[key(p.Tubes)] {
			continue
		}
		g := equals{slots: make([][]string, len(p.Tubes))}
		for i, id := range p.Tubes {
			g.slots[i] = []string{id}
		}
		for i := range g.slots {
			for _, id := range tubes {
				more := slices.Clone(g.slots)
				more[i] = []string{id}
				if everyOne(more, func(ids []string) bool { return left[key(ids)] }) && !slices.Contains(g.slots[i], id) {
					g.slots[i] = append(g.slots[i], id)
				}
			}
		}
		everyOne(g.slots, func(ids []string) bool { delete(left, key(ids)); return true })
		for _, q := range all {
			if g.holds(q.Tubes) {
				g.palettes = append(g.palettes, q)
			}
		}
		out = append(out, g)
	}
	return out
}

// everyOne reports whether all choices of one tube from each slot satisfy a condition.
func everyOne(slots [][]string, is func(ids []string) bool) bool {
	var chosen []string
	var choose func() bool
	choose = func() bool {
		if len(chosen) == len(slots) {
			return is(chosen)
		}
		for _, id := range slots[len(chosen)] {
			chosen = append(chosen, id)
			ok := choose()
			chosen = chosen[:len(chosen)-1]
			if !ok {
				return false
			}
		}
		return true
	}
	return choose()
}

// holds reports whether a palette is one tube of each slot.
func (g equals) holds(ids []string) bool {
	return len(ids) == len(g.slots) && !slices.ContainsFunc(g.slots, func(slot []string) bool {
		return !slices.ContainsFunc(slot, func(id string) bool { return slices.Contains(ids, id) })
	})
}

// EqualsSentence is a group in words: "titanium white; any of four blues (...)".
func (c *Choice) EqualsSentence(g equals) string {
	var words []string
	for _, slot := range g.slots {
		if len(slot) == 1 {
			words = append(words, c.name(slot[0]))
			continue
		}
		words = append(words, fmt.Sprintf("any of %s %s (%s)", shown.Spelled(len(slot)), c.list().Kind(slot), strings.Join(c.Names(slot), ", ")))
	}
	return shown.Capital(strings.Join(words, "; ")) + ": " + g.figures()
}

// figures are the worst differences and prices of a group.
func (g equals) figures() string {
	worst, price := between(g.palettes, func(p Palette) shown.Hundredths { return p.WorstDE }), between(g.palettes, func(p Palette) shown.Cents { return p.Price })
	out := fmt.Sprintf("worst ΔE00 %s, price %s", worst, price)
	if n := len(g.palettes); n > 1 {
		out = fmt.Sprintf("%s, %s", shown.Counted(n, "palette"), out)
	}
	return out
}

// between is the least and the largest of a figure.
func between[T interface {
	~int | ~float64
	String() string
}](palettes []Palette, figure func(Palette) T) string {
	low, high := figure(palettes[0]), figure(palettes[0])
	for _, p := range palettes {
		low, high = min(low, figure(p)), max(high, figure(p))
	}
	if low == high {
		return low.String()
	}
	return low.String() + " to " + high.String()
}

// mostGroups of equal palettes are told; the JSON holds every palette.
const mostGroups = 6

// Groups are the palettes listed, those as good by the first key apart from the others,
// put together where they differ by swaps, and how many stand in groups not told.
func (c *Choice) Groups() (told []equals, more int) {
	tied := min(c.Tied, len(c.Palettes))
	told = slices.Concat(grouped(c.Palettes[:tied]), grouped(c.Palettes[tied:]))
	for i, g := range told {
		if i >= mostGroups {
			more += len(g.palettes)
		}
	}
	return told[:min(len(told), mostGroups)], more
}

func (c *Choice) writeOthers(b *strings.Builder, s terminal.Style) {
	if len(c.Palettes) < 2 {
		return
	}
	terminal.Heading(b, s, fmt.Sprintf("Other palettes of %s: %s", shown.Counted(len(c.Palettes[0].Tubes), "tube"), c.othersWords()))
	b.WriteString(s.Wrap("  ", 2, c.OrderSentence()))
	groups, more := c.Groups()
	for _, g := range groups {
		b.WriteString(s.Wrap("  ", 4, c.EqualsSentence(g)+"."))
	}
	if more > 0 {
		b.WriteString(fmt.Sprintf("  And %d more (--json lists them all).\n", more))
	}
}

// othersWords counts the palettes besides the best.
func (c *Choice) othersWords() string {
	n := fmt.Sprint(len(c.Palettes) - 1)
	if c.Capped {
		return "more than " + n
	}
	return n
}

// usualKeys are what settles the usual order after its first key.
const usualKeys = "the share of plausible boxes a palette holds in, by quarters, most colours mixed without letting a paint down, that share in steps of 5 %, fewest tubes that are mixtures or estimated, least worst difference in steps of 0.5 from 1 up, price, name"

// OrderSentence says by what the palettes listed are ordered, and how surely.
func (c *Choice) OrderSentence() string {
	switch solver.Preference(c.Prefer) {
	case solver.Usual:
		const first = "None of this size has fewer toxic, fading or brittle tubes than the first; "
		switch {
		case c.Tied == 1:
			return first + "it alone has so few."
		case c.TiedCapped:
			return first + fmt.Sprintf("of those that have as few, %d were compared, and there are more: %s.", c.Tied, usualKeys)
		}
		return first + fmt.Sprintf("the %d that have as few were compared: %s.", c.Tied, usualKeys)
	case solver.Accuracy:
		return "The first has the least worst difference, as finely as an eye tells them apart; others stand by theirs."
	}
	return fmt.Sprintf("In order of %s, exactly.", c.Prefer)
}

// tiesSentence says what the best palette was preferred for.
func (c *Choice) tiesSentence() string {
	if solver.Preference(c.Prefer) != solver.Usual || c.Tied < 2 {
		return ""
	}
	over := ""
	if c.TiedCapped {
		over = "over "
	}
	return fmt.Sprintf("This is the first of %s%d palettes as small with as few toxic, fading or brittle tubes.", over, c.Tied)
}
