package packing

import (
	"fmt"
	"strings"

	"fewtubes/catalog"
)

// Drying is a step of the order paints are layered in.
type Drying struct {
	Speed string   `json:"speed"` // fast, medium, slow
	Where string   `json:"where"`
	Tubes []string `json:"tubes"` // ids in catalogue order
}

// dryingOrder puts fast driers under and slow ones over (common practice, no
// source).
func dryingOrder(tubes []Tube) []Drying {
	order := []Drying{
		{Speed: "fast", Where: "under: first layers, thin"},
		{Speed: "medium", Where: "between"},
		{Speed: "slow", Where: "over: last layers, or thin"},
	}
	out := []Drying{}
	for _, d := range order {
		for _, t := range tubes {
			if t.Drying == d.Speed {
				d.Tubes = append(d.Tubes, t.ID)
			}
		}
		if len(d.Tubes) > 0 {
			out = append(out, d)
		}
	}
	return out
}

func caution(t *catalog.Tube) string {
	words := t.Name + ":"
	if len(t.Hazards) > 0 {
		words += " contains " + strings.Join(t.Hazards, ", ") + "."
	}
	if t.Caution != "" {
		words += " " + t.Caution
	}
	if lasting := t.Lasting(); lasting != "" {
		words += " " + lasting
	}
	return words
}

// travel is what to mind with oil paint on the way (common practice, no
// source): whom to ask, not what is allowed.
var travel = []string{
	"Oil colours are usually carried without trouble, but the carrier decides: ask before you travel and have the safety data sheets at hand.",
	"Turpentine, white spirit and other solvents, drying mediums and spray varnish are mostly flammable and are commonly refused, above all in the air; buy them where you paint, and follow the label, the carrier and local rules.",
	"Rags with drying oil can heat up and catch fire by themselves: spread them to dry outdoors or keep them under water in a closed metal can, and dispose of them by local rules.",
	"Take used solvent and paint waste home; never pour it on the ground, least of all by water.",
	"The label, the safety data sheet and local rules come before anything said here.",
}

// practice states every figure that is a habit rather than a measurement.
func practice(j Job) []string {
	sizes := make([]string, len(sizesML))
	for i, s := range sizesML {
		sizes[i] = fmt.Sprint(s)
	}
	return []string{
		fmt.Sprintf("a wet film of %v mm a coat (direct painting about 0.2, a thin first coat about 0.1, knife work 1 and more)", j.FilmMM),
		fmt.Sprintf("%.0f %% of what is laid stays on palette, knife and brush", 100*j.Waste),
		fmt.Sprintf("tubes of %s ml, of which %.0f %% can be squeezed out", strings.Join(sizes, ", "), 100*usable),
		fmt.Sprintf("tube and cap weigh %.0f g and %.1f g for each ml", emptyGrams, emptyPerML),
		"fat over lean: no layer leaner than the one below; fast driers under, slow driers over",
	}
}
