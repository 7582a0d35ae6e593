package report

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/gamut/colour"
	"fewtubes/solver"
)

const (
	schemaChoose = "fewtubes choose 1"
	schemaCheck  = "fewtubes check 1"
)

// Verdict is the answer in one sentence or two.
func (c *Choice) Verdict() string {
	if len(c.Palettes) == 0 {
		return "No tube is allowed under these limits."
	}
	best := c.Palettes[0]
	reached := c.reached()
	all := len(best.Targets)
	n := len(best.Tubes)
	if c.nothingReachable() {
		none := "The one colour cannot"
		if all > 1 {
			none = fmt.Sprintf("None of the %s can", shown.Counted(all, "colour"))
		}
		return none + " be reached, not even with all the allowed tubes together."
	}
	tubes := shown.Capital(shown.Spelled(n)) + " " + shown.Plural(n, "tube")
	colours := shown.Counted(all, "colour")
	switch {
	case all == 1 && reached == 1:
		return fmt.Sprintf("%s %s the one colour.", tubes, map[bool]string{true: "reaches", false: "reach"}[n == 1])
	case all == 1:
		return fmt.Sprintf("%s: the one colour is out of reach.", tubes)
	case reached == all && n == 1:
		return fmt.Sprintf("One tube reaches every one of the %s.", colours)
	case reached == all:
		return fmt.Sprintf("%s reach every one of the %s.", tubes, colours)
	}
	return fmt.Sprintf("%s: %d of the %s within reach, %d out of reach.", tubes, reached, colours, all-reached)
}

// ProofSentence says why fewer tubes will not do, and how sure that is.
func (c *Choice) ProofSentence() string {
	m := c.Minimum
	if c.Schema == schemaCheck || m.Tubes == 0 {
		return ""
	}
	if c.nothingReachable() {
		return "So no palette is better here than another, and the one below only keeps the limits. What is said of each colour tells how near the allowed tubes come."
	}
	about := ""
	if n := c.unreachable(); n > 0 {
		about = fmt.Sprintf(" for the colours that the allowed tubes can reach (%d cannot be reached by all of them together)", n)
	}
	fewer := "Fewer will not do" + about + ": "
	none := "no smaller set meets every need"
	if c.ToBuy != nil {
		fewer = "Buying fewer will not do, nor will as many with fewer tubes in all" + about + ": "
		none = "no set with fewer to buy, and no smaller one with as many, meets every need"
	}
	switch {
	case len(c.Conflict) > 0:
		return fmt.Sprintf("These limits cannot be kept together with every colour: %s. The palette misses as little of the scene as they allow%s.", strings.Join(c.Conflict, "; "),
			map[bool]string{true: ", with as few to buy as that takes"}[c.ToBuy != nil])
	case m.Proof == solver.InDraws:
		return c.SureSentence()
	case m.Proof == solver.Interrupted:
		return fmt.Sprintf("The choice was cut short: this is the best palette found by then, and none has fewer than %s.", shown.Counted(m.AtLeast, "tube"))
	case m.Proof == solver.Counted:
		return fewer + "for each need below every recipe by hand of the other tubes was counted out, and " + none + "."
	case m.Proof == solver.Searched || c.ToBuy != nil && c.ToBuy.Proof == solver.Searched && len(c.NeedsToBuy) > 0:
		return fewer + "each colour below was looked for without the tubes it needs, from many starts, and " + none + ". " + c.sureness()
	case m.Proof == solver.Certified && (c.ToBuy == nil || c.ToBuy.Proof == solver.Certified || len(c.NeedsToBuy) == 0):
		return fewer + "each need below is certified, so that no mixture whatever of the other tubes comes near enough, and " + none + "."
	}
	return fewer + none + "."
}

// sureness says how many needs are theorems, where not all are.
func (c *Choice) sureness() string {
	n, needs := 0, slices.Concat(c.NeedsToBuy, c.Needs)
	for _, need := range needs {
		if need.Proof == solver.Certified {
			n++
		}
	}
	if n == 0 {
		return "The search is thorough, not a mathematical certainty." + c.unsettled()
	}
	return fmt.Sprintf("%s of the %s are certified as well: there no mixture whatever of the other tubes comes near enough.%s",
		shown.Capital(shown.Spelled(n)), shown.Counted(len(needs), "need"), c.unsettled())
}

// unsettled says why needs are not certified though that was asked for.
func (c *Choice) unsettled() (out string) {
	for _, need := range slices.Concat(c.NeedsToBuy, c.Needs) {
		if need.Unsettled != "" {
			out += fmt.Sprintf(" %s is not certified: %s.", shown.Capital(need.Target), need.Unsettled)
		}
	}
	return out
}

// reached counts the colours within reach of the best palette.
func (c *Choice) reached() int {
	n := 0
	for _, p := range c.Palettes[:min(len(c.Palettes), 1)] {
		for _, t := range p.Targets {
			if t.Reached {
				n++
			}
		}
	}
	return n
}

func (c *Choice) unreachable() int {
	n := 0
	for _, m := range c.Missed {
		if m.Unreachable {
			n++
		}
	}
	return n
}

// nothingReachable says that no colour asks for any tube: each is beyond all the
// allowed ones together.
func (c *Choice) nothingReachable() bool {
	return c.Schema != schemaCheck && len(c.Palettes) > 0 && c.unreachable() == len(c.Palettes[0].Targets)
}

// mostNeeded tubes of a need are named; the JSON holds them all.
const mostNeeded = 12

// NeedSentence puts a cut in words, and says where it does not hold.
func (c *Choice) NeedSentence(n Need) string { return c.needWords(n) + c.sparedWords(n) }

func (c *Choice) needWords(n Need) string {
	target := n.Target
	if n.Times > 1 {
		target += fmt.Sprintf(" (counts %s)", times(n.Times))
	}
	if len(n.OneOf) == 1 {
		return fmt.Sprintf("%s needs %s", target, c.name(n.OneOf[0]))
	}
	names := c.Names(n.OneOf)
	if len(names) > mostNeeded+1 {
		names = append(names[:mostNeeded:mostNeeded], fmt.Sprintf("and %d more", len(n.OneOf)-mostNeeded))
	}
	return fmt.Sprintf("%s needs one of: %s", target, strings.Join(names, ", "))
}

// MissSentence says how far a colour stays away and what would help.
func (c *Choice) MissSentence(m Miss) string {
	from := ""
	if m.Unreachable && c.Schema != schemaCheck {
		from = " from all the allowed tubes together"
	}
	if c.problem.ByHand != solver.Freely {
		from = " by hand" + from
	}
	out := fmt.Sprintf("ΔE00 %s at best%s, %s: %s", m.BestDE, from, shown.Judgement(m.BestDE), m.Words)
	out += m.certainty()
	if m.Unreachable && c.Schema == schemaCheck {
		out += "; beyond all the tubes together"
	}
	if m.Helper != "" {
		out += fmt.Sprintf("; %s would bring it to %s", c.name(m.Helper), m.HelpDE)
	}
	if v := m.Varnished; v != nil {
		by := "the allowed tubes come"
		if v.Palette {
			by = "this palette comes"
		} else if c.Schema == schemaCheck {
			by = "all the tubes together come"
		}
		out += fmt.Sprintf("; varnished, or lit so that no glare is seen (--surface no-glare), %s to %s", by, v.DE)
	}
	return out
}

// certainty is what a proof that was asked for came to.
func (m *Miss) certainty() string {
	switch {
	case m.Proof == solver.Certified:
		return " (certified)"
	case m.Unsettled != "":
		return " (not certified: " + m.Unsettled + ")"
	}
	return ""
}

// missWords is MissSentence where the palette's difference is shown already.
func (c *Choice) missWords(m Miss) string {
	if m.Unreachable && c.Schema != schemaCheck {
		return c.MissSentence(m)
	}
	_, out, _ := strings.Cut(c.MissSentence(m), ": ")
	return out
}

// GreensSentence counts the greens, which a landscape stands or falls with, and names
// the worst by its recipe.
func (c *Choice) GreensSentence() string {
	if len(c.Palettes) == 0 {
		return ""
	}
	greens, reached := 0, 0
	var worst *Target
	for i := range c.Palettes[0].Targets {
		t := &c.Palettes[0].Targets[i]
		if !colour.Name(t.Lab.Colour()).Hue.IsGreen() {
			continue
		}
		greens++
		if t.Reached {
			reached++
		}
		if worst == nil || t.recipeDE() > worst.recipeDE() {
			worst = t
		}
	}
	if worst == nil {
		return ""
	}
	within := fmt.Sprintf("%d within reach", reached)
	switch reached {
	case greens:
		within = "within reach"
	case 0:
		within = "none within reach"
	}
	return fmt.Sprintf("Greens: %d, %s; the worst is %s, ΔE00 %s.", greens, within, worst.Name, worst.recipeDE())
}

// Cautions lists the tubes of a palette that carry a hazard; the safety note
// speaks for all of them.
func (c *Choice) Cautions(p Palette) []shown.Caution {
	return c.list().Cautions(p.Tubes)
}
