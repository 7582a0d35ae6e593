package piles

import (
	"fmt"

	"fewtubes/cmd/fewtubes/internal/report/printable"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
)

// valueStringPage is a string with the colours a browser needs.
type valueStringPage struct {
	*ValueString
	Heading     string
	PaintsWords string
	From        string
	Note        string
	Strip       []pileStep // the darkest first
	First       stringRow
	Runs        []stringRows
	CautionList []shown.Caution
}

type stringRows struct {
	Heading string
	Rows    []stringRow
}

type stringRow struct {
	printable.Pair
	No, Recipe, Miss string
	DE               shown.Hundredths
	Look             shown.Look
	Reached          bool
	Order            string
}

// HTML is the string as one printable page.
func (v *ValueString) HTML() ([]byte, error) { return printable.Render("valuestring.html", v.page()) }

// Fragment is the body of HTML, for a page around it.
func (v *ValueString) Fragment() ([]byte, error) {
	return printable.Fragment("valuestring.html", v.page())
}

func (v *ValueString) page() valueStringPage {
	name := v.used.Name
	start := v.Start.shown()
	out := valueStringPage{
		ValueString: v, Heading: shown.Capital(v.Wanted.Words) + " over " + shown.Counted(len(v.Values), "value"), PaintsWords: shown.Counted(v.PaintsPerMix, "paint"),
		From: shown.Listed(tubelist.List(v.table.Tubes).Names(v.Palette), "and"), Note: stringNote,
		First: stringRow{
			printable.PairOf(v.Start.goal, start.Lab), fmt.Sprint(v.Start.No), start.words(name), afterDE(start.missWords()), start.DE, start.Look, v.Start.Reached, start.Order,
		},
		CautionList: v.used.Cautions(v.used.IDs()),
	}
	for _, run := range v.runs() {
		if len(run.Steps) == 0 {
			continue
		}
		rows := stringRows{Heading: run.Heading}
		for _, s := range run.Steps {
			rows.Rows = append(rows.Rows, stringRow{
				printable.PairOf(s.Goal, s.Lab), fmt.Sprint(s.No), s.words(name), afterDE(differenceWords(s.DE, s.Direction)), s.DE, s.Look, s.Reached, "",
			})
		}
		out.Runs = append(out.Runs, rows)
	}
	for i := len(v.Steps) - 1; i >= v.lighter; i-- {
		out.Strip = append(out.Strip, stripStep(v.Steps[i].No, v.Steps[i].Look))
	}
	out.Strip = append(out.Strip, stripStep(v.Start.No, start.Look))
	for _, s := range v.Steps[:v.lighter] {
		out.Strip = append(out.Strip, stripStep(s.No, s.Look))
	}
	return out
}

func stripStep(no int, l shown.Look) pileStep {
	return pileStep{shown.Hex(l.Lab.Colour()), fmt.Sprint(no)}
}
