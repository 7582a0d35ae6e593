package report

import "fmt"

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
	CautionList []Caution
}

type stringRows struct {
	Heading string
	Rows    []stringRow
}

type stringRow struct {
	swatchPair
	No, Recipe, Miss string
	DE               Hundredths
	Look             Look
	Reached          bool
	Order            string
}

// HTML is the string as one printable page.
func (v *ValueString) HTML() ([]byte, error) { return render("valuestring.html", v.page()) }

// Fragment is the body of HTML, for a page around it.
func (v *ValueString) Fragment() ([]byte, error) { return renderFragment("valuestring.html", v.page()) }

func (v *ValueString) page() valueStringPage {
	name := v.used.name
	start := v.Start.shown()
	out := valueStringPage{
		ValueString: v, Heading: capital(v.Wanted.Words) + " over " + counted(len(v.Values), "value"), PaintsWords: counted(v.PaintsPerMix, "paint"),
		From: listed(tubeList(v.table.Tubes).names(v.Palette), "and"), Note: stringNote,
		First: stringRow{
			pairOf(v.Start.goal, start.Lab), fmt.Sprint(v.Start.No), start.words(name), afterDE(start.missWords()), start.DE, start.Look, v.Start.Reached, start.Order,
		},
		CautionList: v.used.cautions(v.used.ids()),
	}
	for _, run := range v.runs() {
		if len(run.Steps) == 0 {
			continue
		}
		rows := stringRows{Heading: run.Heading}
		for _, s := range run.Steps {
			rows.Rows = append(rows.Rows, stringRow{
				pairOf(s.Goal, s.Lab), fmt.Sprint(s.No), s.words(name), afterDE(differenceWords(s.DE, s.Direction)), s.DE, s.Look, s.Reached, "",
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

func stripStep(no int, l Look) pileStep { return pileStep{hex(l.Lab.Colour()), fmt.Sprint(no)} }
