package report

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/drawn"
	"fewtubes/cmd/fewtubes/internal/report/printable"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/gamut/colour"
)

// choicePage is the document with the colours a browser needs.
type choicePage struct {
	*Choice
	Kind            string
	Asked           []string
	Best            *Palette
	Tubes           []TubeSwatch
	Rows            []rowSwatch
	Others          []otherPalette
	OthersWords     string
	Groups          []string       // of palettes that differ by swaps
	Offered         []otherPalette // the smaller palette, if any
	PriceWords      string
	Nearness        string
	AnyMissed       bool
	RecipeNote      string
	Prepared        []string
	PreparedHeading string
	BaseGroups      []baseGroup
	BaseNote        string
	BasesHeading    string
	CautionList     []shown.Caution
	Ladder          template.HTML
	Plot            template.HTML
}

type TubeSwatch struct {
	tubelist.Line
	Masstone, Tint string // #rrggbb
	Letter         string // joins a swatch to its label
}

type rowSwatch struct {
	Target
	No                  int
	Plane, Words, Value string
	Word                string // the difference in a word
	TargetHex, MixHex   string
	OffScreen, OnMount  bool
	Recipe, Bracketed   string // what stands in brackets beside the recipe
	RecipeDE            shown.Hundredths
	Blocks              []printable.Blocks
	MissWords           string
}

type otherPalette struct {
	Palette
	Tubes  []TubeSwatch
	Change string // against the best palette, or its tubes
}

// HTML is the answer as one printable page with nothing outside it.
func (c *Choice) HTML() ([]byte, error) { return printable.Render("choice.html", c.page()) }

func (c *Choice) page() choicePage {
	p := choicePage{Choice: c, Kind: "The fewest tubes for", Asked: c.asked(), PreparedHeading: preparedHeading, BasesHeading: basesHeading}
	if c.Schema == schemaCheck {
		p.Kind = "What these tubes reach in"
	}
	if len(c.Palettes) > 0 {
		c.fillPage(&p)
	}
	return p
}

func (c *Choice) fillPage(p *choicePage) {
	best := &c.Palettes[0]
	p.Best = best
	p.Tubes = c.Swatches(best.Tubes)
	p.PriceWords = shown.Capital(c.priceWords(*best))
	p.Nearness = shown.Capital(c.worstAndMean(*best))
	for i, t := range best.Targets {
		p.Rows = append(p.Rows, c.rowSwatch(i, t))
		p.AnyMissed = p.AnyMissed || !t.Reached
	}
	p.RecipeNote = recipeNote(best)
	for _, pile := range best.Prepared {
		p.Prepared = append(p.Prepared, pile.sentence(c.name))
	}
	p.BaseGroups, p.BaseNote = best.baseGroups(c.name), best.Handled.sentence()
	colours, paints, sight := c.drawing(best)
	p.Ladder, p.Plot = drawn.Ladder(colours), drawn.Plot(colours, paints, sight, c.left)
	p.CautionList = c.Cautions(*best)
	if c.Smaller != nil {
		p.Offered = []otherPalette{{*c.Smaller, c.Swatches(c.Smaller.Tubes), shown.Listed(c.Names(c.Smaller.Tubes), "and")}}
	}
	c.fillOthers(p)
}

// fillOthers tells of the groups of equal palettes, and puts one of each group beside
// the best.
func (c *Choice) fillOthers(p *choicePage) {
	if len(c.Palettes) < 2 {
		return
	}
	groups, more := c.Groups()
	p.OthersWords = shown.Capital(c.othersWords()) + " found besides the one above. " + c.OrderSentence()
	for _, g := range groups {
		p.Groups = append(p.Groups, c.EqualsSentence(g)+".")
		for _, o := range g.palettes {
			if !slices.Equal(o.Tubes, p.Best.Tubes) {
				p.Others = append(p.Others, otherPalette{o, c.Swatches(o.Tubes), c.change(p.Best.Tubes, o.Tubes)})
				break
			}
		}
	}
	if more > 0 {
		p.Groups = append(p.Groups, fmt.Sprintf("And %d more.", more))
	}
}

// change says in words how a palette differs from another.
func (c *Choice) change(from, to []string) string {
	out := fmt.Sprintf("%s instead of %s",
		shown.Listed(c.Names(without(to, from)), "and"), shown.Listed(c.Names(without(from, to)), "and"))
	return strings.TrimSuffix(out, " instead of ")
}

func without(ids, drop []string) (out []string) {
	for _, id := range ids {
		if !slices.Contains(drop, id) {
			out = append(out, id)
		}
	}
	return out
}

func (c *Choice) Swatches(ids []string) (out []TubeSwatch) {
	for _, t := range c.linesOf(Palette{Tubes: ids}) {
		letter := string(rune('A' + len(out)%26))
		out = append(out, TubeSwatch{t, shown.Hex(c.masstone(t.ID)), shown.Hex(c.tint(t.ID)), letter})
	}
	return out
}

func (c *Choice) rowSwatch(i int, t Target) rowSwatch {
	lab, mix := t.Lab.Colour(), t.mixed().Colour()
	row := rowSwatch{
		Target: t, No: i + 1, Plane: c.planes[i],
		Words: colour.Name(lab).String(), Value: shown.Value(lab.L), Word: shown.Judgement(t.recipeDE()),
		TargetHex: shown.Hex(lab), MixHex: shown.Hex(mix),
		OffScreen: !lab.SRGB().Displayable() || !mix.SRGB().Displayable(),
		OnMount:   printable.OnMount(shown.Hex(lab)) || printable.OnMount(shown.Hex(mix)),
		Recipe:    t.recipe(c.name), RecipeDE: t.recipeDE(), Bracketed: c.bracketed(),
	}
	for _, pile := range t.piles() {
		paint := pile.Paint(c.tube)
		seen := paint.Masstone(c.problem.Surface)
		row.Blocks = append(row.Blocks, printable.BlocksOf(shown.Hex(c.problem.Light.Lab(&seen)), pile.Parts()))
	}
	for _, m := range c.Missed {
		if m.Target == t.Name {
			row.MissWords = shown.Capital(c.missWords(m))
		}
	}
	return row
}

// Fragment is the body of HTML, for a page around it; every swatch carries its
// colour as data-fill="#rrggbb".
func (c *Choice) Fragment() ([]byte, error) { return printable.Fragment("choice.html", c.page()) }
