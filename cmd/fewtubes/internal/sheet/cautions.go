package sheet

import (
	"strings"

	"fewtubes/catalog"
)

// safety ends every sheet's cautions.
const safety = "Pigment dust, spray and solvents can hurt: do not sand, spray or heat these paints, and keep them off food and skin. " +
	"The label, the safety data sheet and local rules come before anything said here."

// drawCautions lists what to mind about the tubes of a sheet.
func drawCautions(p *press, tubes []catalog.Tube) {
	var lines []string
	for i := range tubes {
		if text := caution(&tubes[i]); text != "" {
			lines = append(lines, text)
		}
	}
	lines = append(lines, safety)
	height := 11*pointMM*leading + 1
	for _, l := range lines {
		height += float64(float64(p.lines(p.inner(), nameSize, l))*nameSize*pointMM*leading) + 1
	}
	p.y += 2
	p.room(height)
	p.heading("Cautions")
	for _, l := range lines {
		p.paragraph(nameSize, l)
	}
}

// minded says what a tube contains and what its film may come to.
func minded(t *catalog.Tube) (words []string) {
	if len(t.Hazards) > 0 {
		words = append(words, "contains "+strings.Join(t.Hazards, ", "))
	}
	return append(words, t.Fails()...)
}

// caution is the line for one tube, empty when there is nothing to say.
func caution(t *catalog.Tube) string {
	var words []string
	if len(t.Hazards) > 0 {
		words = append(words, "contains "+strings.Join(t.Hazards, ", ")+".")
	}
	if t.Caution != "" {
		words = append(words, t.Caution)
	}
	if lasting := t.Lasting(); lasting != "" {
		words = append(words, lasting)
	}
	if len(words) == 0 {
		return ""
	}
	return t.Name + ": " + strings.Join(words, " ")
}
