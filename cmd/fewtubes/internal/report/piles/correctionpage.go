package piles

import (
	"fewtubes/cmd/fewtubes/internal/report/printable"
	"fewtubes/cmd/fewtubes/internal/report/shown"
)

// correctionPage is a correction with the colours a browser needs.
type correctionPage struct {
	*Correction
	HaveWords             string
	LyingWords            string
	AddWords, AfterWords  string
	CareWords, FreshWords string
	LyingPair, AfterPair  printable.Pair
	FreshPair             *printable.Pair
	WayRows               []wayRow
	CautionList           []shown.Caution
}

// wayRow is what may be added beside what comes of it.
type wayRow struct {
	Pair         printable.Pair
	Words, After string
	Look         shown.Look
}

// HTML is the correction as one printable page.
func (c *Correction) HTML() ([]byte, error) { return printable.Render("correction.html", c.page()) }

// Fragment is the body of HTML, for a page around it.
func (c *Correction) Fragment() ([]byte, error) {
	return printable.Fragment("correction.html", c.page())
}

func (c *Correction) page() correctionPage {
	name := c.used.Name
	out := correctionPage{
		Correction: c, HaveWords: c.Have.Recipe(name), LyingWords: c.lyingWords,
		AddWords: c.AddSentence(name), AfterWords: differenceWords(c.DE, c.Direction),
		CareWords: c.CareSentence(name), FreshWords: c.FreshSentence(name),
		LyingPair: printable.PairOf(c.Want.Lab, c.lying().Lab), AfterPair: printable.PairOf(c.Want.Lab, c.Lab),
		CautionList: c.used.Cautions(c.used.IDs()),
	}
	for i, words := range c.WaySentences(name) {
		w := c.Ways[i]
		out.WayRows = append(out.WayRows, wayRow{printable.PairOf(c.Want.Lab, w.Lab), words, differenceWords(w.DE, w.Direction), w.Look})
	}
	if c.Fresh != nil {
		lab := c.Fresh.shown().Lab
		if let := c.Fresh.shown().LetDown; let != nil {
			lab = let.Lab
		}
		pair := printable.PairOf(c.Want.Lab, lab)
		out.FreshPair = &pair
	}
	return out
}

// lying is the pile as it is seen, or else as predicted.
func (c *Correction) lying() shown.Look {
	if c.Seen != nil {
		return *c.Seen
	}
	return c.Predicted
}
