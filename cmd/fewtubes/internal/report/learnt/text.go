// Package learnt says what swatches of a painter's own tubes taught, and which would
// teach most.
package learnt

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/owntubes"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// Text says what is known of each tube, how well the swatches are met, and which
// disagree.
func Text(l *owntubes.Lesson, record []owntubes.Swatch, style terminal.Style) string {
	var b strings.Builder
	fmt.Fprintf(&b, "What %s taught\n", shown.Counted(len(l.Swatches), "swatch"))
	for i := range l.Tubes {
		b.WriteString(style.Paragraph(learntWords(l, i)))
	}
	var before, after []float64
	for _, m := range l.Learnt.Swatches {
		before, after = append(before, m.DEBefore), append(after, m.DE)
	}
	fmt.Fprintf(&b, "The swatches are met within %.1f in the middle, %.1f at most (CIEDE2000); before, within %.1f and %.1f.\n",
		middle(after), slices.Max(after), middle(before), slices.Max(before))
	if words := foretoldWords(l); words != "" {
		b.WriteString(style.Paragraph(words))
	}
	b.WriteString(Disagreement(l, record, style))
	var cautions []string
	for _, t := range l.Tubes {
		if t.Caution != "" {
			cautions = append(cautions, t.Name+": "+t.Caution)
		}
	}
	slices.Sort(cautions)
	b.WriteString("\nCautions\n")
	for _, line := range append(slices.Compact(cautions), shown.SafetyNote) {
		b.WriteString(style.Paragraph(line))
	}
	return b.String()
}

func middle(v []float64) float64 {
	v = slices.Sorted(slices.Values(v))
	return (v[(len(v)-1)/2] + v[len(v)/2]) / 2
}

// foretoldWords say how surely what was not painted is foretold: 1:9 tints, and coloured paints in
// equal parts. It is empty where there are none.
func foretoldWords(l *owntubes.Lesson) string {
	white := catalog.WhiteOf(l.Tubes)
	var tints, mixed []float64
	within := func(i, j int, parts float64) float64 {
		m := film.Mixture{Amounts: make([]float64, len(l.Tubes))}
		m.Amounts[i], m.Amounts[j] = 1, parts
		return l.Learnt.Foretell(&m).Within
	}
	for i := range l.Tubes {
		if l.Tubes[i].IsWhite() {
			continue
		}
		if white >= 0 {
			tints = append(tints, within(i, white, 9))
		}
		for j := i + 1; j < len(l.Tubes); j++ {
			if !l.Tubes[j].IsWhite() {
				mixed = append(mixed, within(i, j, 1))
			}
		}
	}
	var words []string
	if len(tints) > 0 {
		words = append(words, fmt.Sprintf("tints within %.0f", middle(tints)))
	}
	if len(mixed) > 0 {
		words = append(words, fmt.Sprintf("two coloured paints together within %.0f", middle(mixed)))
	}
	if len(words) == 0 {
		return ""
	}
	return fmt.Sprintf("What is not painted yet is foretold, in nine cases of ten: %s (CIEDE2000, in the middle).", strings.Join(words, ", "))
}

// learntWords say what is known of tube i, such as "ultramarine blue: from the catalogue,
// moved by 3 swatches; 1.4 times as strong, strength within 8 %".
func learntWords(l *owntubes.Lesson, i int) string {
	t, p := &l.Tubes[i], &l.Learnt.Paints[i]
	strength := fmt.Sprintf("strength within %.0f %%", 100*(p.Within-1))
	if words := strengthWords(p.Strength); words != "" {
		strength = words + ", " + strength
	}
	from := "from the catalogue"
	if builtin, err := catalog.Builtin(); err == nil {
		if known, ok := builtin.Find(t.ID); !ok || known.Paint != t.Paint {
			from = "from your own file"
		}
	}
	if begun, ok := strings.CutPrefix(t.Source, "begun from "); ok {
		from = "begun from " + begun
	}
	if t.IsWhite() {
		return fmt.Sprintf("%s: %s, in %s; the measure of the others' strength", plain.Clean(t.Name), from, shown.Counted(p.Swatches, "swatch"))
	}
	return fmt.Sprintf("%s: %s, moved by %s; %s", plain.Clean(t.Name), from, shown.Counted(p.Swatches, "swatch"), strength)
}

// strengthWords are empty where the strength stayed within 5 %.
func strengthWords(times float64) string {
	switch {
	case times > 1.05:
		return fmt.Sprintf("%.1f times as strong", max(times, 1.1))
	case times < 1/1.05:
		return fmt.Sprintf("%.0f %% as strong", 100*times)
	}
	return ""
}

// Disagreement names the swatches that the others contradict.
func Disagreement(l *owntubes.Lesson, record []owntubes.Swatch, style terminal.Style) string {
	const most = 5
	var b strings.Builder
	n := 0
	for k, m := range l.Learnt.Swatches {
		if !m.Disagrees() {
			continue
		}
		if n++; n <= most {
			i := l.Swatches[k]
			b.WriteString(style.Paragraph(fmt.Sprintf("swatch %d, %s: it does not agree with the others (off by %.1f) and counts little: misread, or another tube?",
				i+1, plain.Clean(record[i].Recipe), m.DE)))
		}
	}
	if n > most {
		b.WriteString(style.Paragraph(fmt.Sprintf("%d more do not agree either; measure --box lists how far off each is.", n-most)))
	}
	return b.String()
}

// Record lists the swatches by number.
func Record(l *owntubes.Lesson, record []owntubes.Swatch) string {
	var b strings.Builder
	b.WriteString("\nThe swatches (off: CIEDE2000 from what is foretold now)\n")
	for k, i := range l.Swatches {
		fmt.Fprintf(&b, "  %3d  off %4.1f  %s, %s\n", i+1, l.Learnt.Swatches[k].DE, plain.Clean(record[i].Recipe), plain.Clean(record[i].Seen))
	}
	return b.String()
}

// news says in a line what more was learnt: strengths that changed, and how many mixtures
// do not look any more as they did.
func news(was, now *owntubes.Lesson, before *catalog.Catalogue, asked *Mixtures) string {
	var news []string
	for i := range now.Tubes {
		t := &now.Tubes[i]
		times := now.Learnt.Paints[i].Strength
		if was != nil {
			if k := slices.IndexFunc(was.Tubes, func(o catalog.Tube) bool { return o.ID == t.ID }); k >= 0 {
				times /= was.Learnt.Paints[k].Strength
			}
		}
		if words := strengthWords(times); words != "" && !t.IsWhite() {
			news = append(news, fmt.Sprintf("%s is %s as thought", plain.Clean(catalog.InSentence(t.Name)), words))
		}
	}
	if most := 4; len(news) > most {
		news = append(news[:most], fmt.Sprintf("%d more strengths changed", len(news)-most))
	}
	changed := 0
	for i := range asked.List {
		was, is := asked.colour(i, before), asked.colour(i, now.After)
		if colour.DE2000(was, is) > 1 {
			changed++
		}
	}
	if len(news) == 0 {
		news = append(news, "no strength changed by more than 5 %")
	}
	return fmt.Sprintf("Learnt: %s; %d of %d %s change by more than 1.", strings.Join(news, ", "), changed, len(asked.List), asked.What)
}
