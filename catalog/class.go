package catalog

import "slices"

// Hazard classes a tube may carry: the metal or dust that its label and safety
// data sheet are likely to mention. A class says "read them", no more.
var hazardClasses = []string{
	"antimony", "cadmium", "chromium", "cobalt", "copper", "cyanide", "lead",
	"manganese", "mercury", "nickel", "selenium", "silica", "sulfide", "vanadium", "zinc",
}

// toxic holds the classes that painters who avoid toxic pigments usually mean
// (common practice, no source): the heavy metals. Chromium(III) oxides, copper
// phthalocyanines and the dust of earths are not among them.
var toxic = []string{"antimony", "cadmium", "cobalt", "lead", "manganese", "mercury", "nickel"}

var (
	opacityClasses       = []string{"opaque", "semi-opaque", "semi-transparent", "transparent"}
	dryingClasses        = []string{"fast", "medium", "slow"}
	lightfastnessClasses = []string{"I", "II", "III", "IV", "V"}
)

// Classes are the words a painter may avoid tubes by, sorted: hazard classes,
// "toxic" for the heavy metals together (antimony, cadmium, cobalt, lead,
// manganese, mercury, nickel), the opacity classes, "fugitive" for lightfastness
// III or worse, "brittle" for zinc oxide, "convenience" for mixtures of pigments,
// and "estimated" for what the catalogue knows least of (Basis).
func Classes() []string {
	all := slices.Concat(hazardClasses, opacityClasses, []string{"toxic", "fugitive", "brittle", "convenience", "estimated"})
	slices.Sort(all)
	return all
}

// InClass reports whether the tube belongs to one of Classes.
func (t Tube) InClass(class string) bool {
	switch class {
	case "toxic":
		return slices.ContainsFunc(t.Hazards, func(h string) bool { return slices.Contains(toxic, h) })
	case "fugitive":
		return slices.Index(lightfastnessClasses, t.Lightfastness) >= slices.Index(lightfastnessClasses, "III")
	case "brittle":
		return slices.Contains(t.Pigments, zincOxide)
	case "convenience":
		return len(t.Pigments) > 1
	case "estimated":
		return t.Basis == Estimated
	}
	return t.Opacity == class || slices.Contains(t.Hazards, class)
}
