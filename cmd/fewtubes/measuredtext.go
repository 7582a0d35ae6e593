package main

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/readings"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/gamut/film"
)

// measuredText says how well each tube is known, what is not, and which sample
// would settle it.
func measuredText(fit *readings.Fitted, tubes []string, leftOut int, builtin *catalog.Catalogue, style terminal.Style) string {
	width := len("tube")
	for _, t := range tubes {
		width = max(width, len(t))
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%-*s  readings  missed by, median  at most  (CIEDE2000)\n", width, "tube")
	for i, t := range tubes {
		p := &fit.Paints[i]
		fmt.Fprintf(&b, "%-*s  %8d  %17.1f  %7.1f\n", width, t, p.Readings, p.MedianDE, p.MaxDE)
	}
	for i, t := range tubes {
		if s := openQuestion(&fit.Paints[i]); s != "" {
			b.WriteString(style.Paragraph(t + ": " + s + "."))
		}
	}
	if worst := worstMissed(fit.Fitted); worst != "" {
		b.WriteString(worst)
	}
	if s := thicknessWords(fit); s != "" {
		b.WriteString(style.Paragraph(s))
	}
	if leftOut > 0 {
		b.WriteString(style.Paragraph(fmt.Sprintf("Left out, as said above: %s.", howMany(leftOut, "sample"))))
	}
	var cautions []string
	for _, id := range tubes {
		t, ok := builtin.Find(id)
		if !ok {
			cautions = append(cautions, "Tubes the catalogue does not know: write their pigments and hazards into the file; follow the label, the safety data sheet and local rules.")
		} else if words := strings.TrimSpace(t.Caution + " " + t.Lasting()); words != "" {
			cautions = append(cautions, t.Name+": "+words)
		}
	}
	slices.Sort(cautions)
	b.WriteString("\nCautions\n")
	for _, line := range append(slices.Compact(cautions), shown.SafetyNote) {
		b.WriteString(style.Paragraph(line))
	}
	return b.String()
}

// thicknessWords say what was made of films whose thickness is not known.
func thicknessWords(fit *readings.Fitted) string {
	switch {
	case fit.OwnFilms && fit.Shared > 0:
		return fmt.Sprintf("Films of unknown thickness: one for all misses a tenth of them by over %.1f, one for each by over %.1f, so each was given its own.", fit.Shared, fit.Own)
	case fit.Own > 0:
		return fmt.Sprintf("Films of unknown thickness: one for all misses a tenth of them by over %.1f; one for each fits little better (%.1f), so they share one. Write thicknesses you know behind their names, as in over white 24 um.", fit.Shared, fit.Own)
	}
	return ""
}

// openQuestion puts what the readings leave open, and the sample that would
// close it, in words.
func openQuestion(p *film.FittedPaint) string {
	measured := 0
	for _, m := range p.Measured {
		if m {
			measured++
		}
	}
	var open []string
	if p.UnknownS > 0 {
		open = append(open, fmt.Sprintf("how much it scatters is not known in %d of %d bands", p.UnknownS, measured))
	}
	if p.UnknownK > 0 {
		open = append(open, fmt.Sprintf("how much it absorbs is not known in %d of %d bands", p.UnknownK, measured))
	}
	text := strings.Join(open, ", ")
	switch p.NextSample {
	case film.NeedMasstone:
		return joinWords(text, "a patch of the tube alone would settle most")
	case film.NeedTint:
		return joinWords(text, "a weighed tint in white would settle most")
	case film.NeedFilm:
		return joinWords(text, "a thinner film over white would settle most")
	}
	return joinWords(text, "mixtures hardly depend on it")
}

// joinWords is "open: remedy", or nothing where nothing is open and nothing asked.
func joinWords(open, remedy string) string {
	switch {
	case open == "" && strings.HasPrefix(remedy, "mixtures"):
		return ""
	case open == "":
		return remedy
	}
	return open + "; " + remedy
}

// worstMissed points at readings so far from the fit that a slip is likelier
// than the paint.
func worstMissed(fit *film.Fitted) string {
	const suspect = 5.0
	var out strings.Builder
	for _, r := range fit.Residuals {
		if r.DE > suspect {
			fmt.Fprintf(&out, "%s: missed by %.1f; weigh or read it again\n", r.Name, r.DE)
		}
	}
	return out.String()
}
