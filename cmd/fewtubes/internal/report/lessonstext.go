package report

import (
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
)

// entry is one line of a lesson: a word and what is said of it.
type entry struct{ Word, Says string }

// lesson is a section of entries under a heading.
type lesson struct {
	Heading, Intro string
	Entries        []entry
}

// Sections are the lessons of text and page, in order; empty ones are left out.
func (c *Choice) Sections() []lesson {
	var out []lesson
	add := func(heading, intro string, entries []entry) {
		if len(entries) > 0 || intro != "" {
			out = append(out, lesson{heading, intro, entries})
		}
	}
	var why, swaps, minds, leans []entry
	for _, r := range c.Why {
		why = append(why, entry{c.name(r.Tube), c.WhySentence(r)})
	}
	for _, s := range c.Swaps {
		swaps = append(swaps, entry{c.name(s.Tube), c.SwapSentence(s)})
	}
	for _, m := range c.Minds() {
		minds = append(minds, entry{m.Target, strings.Join(m.Reasons, ", ")})
	}
	for _, l := range c.Leans() {
		leans = append(leans, entry{l.Tube, shown.InARow(l.Targets)})
	}
	if c.reached() == 0 {
		why, swaps = nil, nil // any tube would do as well
	}
	if len(why) > 0 {
		add("What each tube is for", "The colours that only this tube brings within reach; in brackets the nearest ΔE00 without it.", why)
	}
	if len(swaps) > 0 {
		add("What could stand in", "With everything still reached; the figures are those of the whole palette after the swap.", swaps)
	}
	out = append(out, c.steerSections()...)
	add("What to add", c.additionsIntro(), c.additionEntries())
	add("What can stay at home", c.homeSentence(), nil)
	add("Under another light", c.LightSentence(), nil)
	if len(minds) > 0 {
		add("Mixes to mind", "A small error of hand or model can spoil these: a verdict within 0.3 of the tolerance, or a share under 2 % of the volume.", minds)
	}
	if len(leans) > 0 {
		add("Leaning on an estimated tube", "How these tubes mix is an estimate (fewtubes tubes ID names the source), and they may be twice as strong, or half. Try these mixes on a scrap first.", leans)
	}
	return out
}

func (c *Choice) writeLessons(b *strings.Builder, s terminal.Style) { writeLessons(b, s, c.Sections()) }

func writeLessons(b *strings.Builder, s terminal.Style, lessons []lesson) {
	for _, l := range lessons {
		terminal.Heading(b, s, l.Heading)
		if l.Intro != "" {
			b.WriteString(s.Wrap("  ", 2, l.Intro))
		}
		for _, e := range l.Entries {
			b.WriteString(s.Wrap("  ", 4, e.Word+": "+e.Says))
		}
	}
}
