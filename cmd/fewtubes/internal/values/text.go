package values

import (
	"fmt"
	"math"
	"strings"

	"fewtubes/gamut/portable"
)

// Text says how a painting compares with its reference, zone by zone.
func (v *Comparison) Text(o Options) string {
	var b strings.Builder
	b.WriteString(v.alignmentSentence(o))
	b.WriteString(v.StretchSentence())
	fmt.Fprintf(&b, "Exposures matched by %s: the painting's photograph %+.1f stops.\n", map[bool]string{true: "the grey card", false: "percentiles"}[v.ByCard], tenth(portable.Log2(v.Gain)))
	b.WriteString("\nValues, 0 black to 10 white: reference, painting, difference\n")
	for r := range o.Rows {
		for k := range o.Columns {
			z := v.Zones[r*o.Columns+k]
			fmt.Fprintf(&b, "  %4.1f %4.1f %+4.1f", z.Reference/10, z.Painting/10, offBy(z))
		}
		b.WriteByte('\n')
	}
	b.WriteByte('\n')
	b.WriteString(v.ZoneSentences())
	b.WriteString("\nIn flat values: value, part of the reference, of the painting\n")
	for k := len(v.Plan.Levels) - 1; k >= 0; k-- {
		fmt.Fprintf(&b, "  %4.1f  %3.0f %%  %3.0f %%\n", v.Plan.Levels[k]/10, 100*v.ReferenceShares[k], 100*v.PaintingShares[k])
	}
	return b.String()
}

func (v *Comparison) alignmentSentence(o Options) string {
	switch {
	case o.Corners != nil:
		return "The painting lies between the corners given.\n"
	case v.CornersFound:
		var at []string
		for _, p := range v.Corners {
			at = append(at, fmt.Sprintf("%.3f,%.3f", p.X, p.Y))
		}
		return fmt.Sprintf("The painting was found at %s; --corners corrects that.\n", strings.Join(at, " "))
	}
	return "The painting is taken to fill its photograph; --corners says where it lies.\n"
}

// StretchSentence warns where a painting is of another shape than its reference.
func (v *Comparison) StretchSentence() string {
	const apart = 1.12 // more than the slant of a hand-held photograph does
	word := "wider"
	by := v.Stretch
	if by < 1 {
		word, by = "narrower", 1/by
	}
	if by < apart {
		return ""
	}
	return fmt.Sprintf("It is %s than the reference by %.0f %%: the zones lie on one another only roughly; crop one to the other's shape.\n", word, 100*(by-1))
}

// offBy is by how many values a zone is off, as it is printed.
func offBy(z Zone) float64 { return tenth(z.Difference() / 10) }

// tells is the difference from which a zone gets a sentence: half a value
// (common practice, no source).
const tells = 0.5

// ZoneSentences name the zones that are off.
func (v *Comparison) ZoneSentences() string {
	var b strings.Builder
	for _, z := range v.Zones {
		d := offBy(z)
		if math.Abs(d) < tells {
			continue
		}
		word := "too light"
		if d < 0 {
			word = "too dark"
		}
		fmt.Fprintf(&b, "Row %d, column %d: %s by %.1f.\n", z.Row+1, z.Column+1, word, math.Abs(d))
	}
	if b.Len() == 0 {
		return fmt.Sprintf("No zone is off by as much as %.1f.\n", tells)
	}
	return b.String()
}

// tenth rounds to the one decimal that is printed, never to minus nothing.
func tenth(v float64) float64 { return math.Round(v*10)/10 + 0 }
