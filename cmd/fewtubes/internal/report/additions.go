package report

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/solver"
)

// Addition is the one tube that would help most.
type Addition struct {
	Tube    string           `json:"tube"`
	Reached []string         `json:"reached"`
	MeanDE  shown.Hundredths `json:"mean_de"`
	Price   shown.Cents      `json:"price"`
}

func (c *Choice) addAdditions(found []solver.Additions) {
	c.Additions = append(c.Additions, found...)
	if len(c.Additions) > 0 {
		first := c.Additions[0].Sets[0]
		c.Addition = &Addition{first.Tubes[0], first.Reached, first.MeanDE, first.Price}
	}
}

// additionsIntro says what the tubes to add are chosen by, or that none help.
func (c *Choice) additionsIntro() string {
	missed := len(c.Missed)
	if len(c.Additions) == 0 || missed == 0 {
		return ""
	}
	if entries := c.additionEntries(); len(entries) > 0 {
		what := fmt.Sprintf("most of the %d colours out of reach within it; no other tubes of that number bring more", missed)
		if missed == 1 {
			what = "the one colour out of reach within it"
		}
		return "What brings " + what + ". Those with fewest toxic, fading or brittle tubes come first, then the cheapest."
	}
	nearest := c.Additions[0].Sets[0]
	why := "No one, two or three tubes bring another colour within reach"
	if c.unreachable() == missed {
		why = "What is missed is beyond all the tubes together"
	}
	return fmt.Sprintf("%s; of single tubes %s (price %s) would bring the mean lowest, to %s.", why, c.name(nearest.Tubes[0]), nearest.Price, nearest.MeanDE)
}

// additionEntries are what one, two and three tubes bring, and where more bring no
// more.
func (c *Choice) additionEntries() (out []entry) {
	most := 0
	for _, a := range c.Additions {
		if n := len(a.Sets[0].Reached); n > 0 {
			most = n
			out = append(out, entry{shown.Counted(a.Tubes, "tube"), c.additionSentence(a)})
		}
	}
	if len(out) > 0 && most < len(c.Missed)-c.unreachable() {
		switch last := c.Additions[len(c.Additions)-1].Tubes; last {
		case 1:
			out = append(out, entry{"2 or 3 tubes", "they bring no more"})
		case 2:
			out = append(out, entry{"3 tubes", "they bring no more"})
		}
	}
	return out
}

func (c *Choice) additionSentence(a solver.Additions) string {
	first := a.Sets[0]
	verb := "brings"
	if a.Tubes > 1 {
		verb = "bring"
	}
	out := fmt.Sprintf("%s (%s) %s %s", shown.Listed(c.Names(first.Tubes), "and"), priceAndMean(first), verb, c.broughtWords(first.Reached))
	words := told(a.Sets[1:], a.Capped, func(o solver.Addition) string {
		instead := ""
		if !slices.Equal(o.Reached, first.Reached) {
			instead = ", other colours"
		}
		return fmt.Sprintf("%s (%s%s)", shown.Listed(c.Names(o.Tubes), "and"), priceAndMean(o), instead)
	})
	if len(words) > 0 {
		out += ". As many: " + strings.Join(words, "; ")
	}
	return out
}

func priceAndMean(s solver.Addition) string {
	return fmt.Sprintf("price %s, mean then %s%s", s.Price, s.MeanDE, holdsOf(s.Holds, s.Draws))
}

// broughtWords names the colours brought within reach, or those that are not
// where they are fewer.
func (c *Choice) broughtWords(reached []string) string {
	var not []string
	for _, m := range c.Missed {
		if !slices.Contains(reached, m.Target) {
			not = append(not, m.Target)
		}
	}
	switch {
	case len(not) == 0 && len(reached) == 1:
		return "it within reach"
	case len(not) == 0:
		return fmt.Sprintf("all %d within reach", len(reached))
	case len(not) < len(reached):
		return fmt.Sprintf("%d of them within reach, all but %s", len(reached), shown.Listed(not, "and"))
	}
	return fmt.Sprintf("%d of them within reach: %s", len(reached), shown.InARow(reached))
}
