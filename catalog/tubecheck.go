package catalog

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"fewtubes/gamut/colour"
)

var (
	idForm      = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)
	pigmentForm = regexp.MustCompile(`^(P|N)(W|Y|O|R|V|B|G|Br|Bk|M)[0-9]+(:[0-9]+)?$`)
	bases       = []string{string(Measured), string(Fitted), string(Estimated)}
)

// Check finds a fact that no tube can have, and names its field. Lightfastness,
// opacity and drying may be empty: not known. Pigments may be none.
func (t *Tube) Check() (field string, err error) {
	if !idForm.MatchString(t.ID) {
		return "id", fmt.Errorf("%s is not small letters and digits joined by hyphens", quoted(t.ID))
	}
	for _, p := range t.Pigments {
		if !pigmentForm.MatchString(p) {
			return "pigments", fmt.Errorf("%s is not a Colour Index generic name such as PB29", quoted(p))
		}
	}
	for _, h := range t.Hazards {
		if !slices.Contains(hazardClasses, h) {
			return "hazards", fmt.Errorf("%s is none of %s", quoted(h), strings.Join(hazardClasses, ", "))
		}
	}
	for _, w := range []struct {
		field, word string
		allowed     []string
		known       bool
	}{
		{"basis", string(t.Basis), bases, true},
		{"lightfastness", t.Lightfastness, lightfastnessClasses, false},
		{"opacity", t.Opacity, opacityClasses, false},
		{"drying", t.Drying, dryingClasses, false},
	} {
		if (w.known || w.word != "") && !slices.Contains(w.allowed, w.word) {
			return w.field, fmt.Errorf("%s is none of %s", quoted(w.word), strings.Join(w.allowed, ", "))
		}
	}
	return t.checkPaint()
}

func (t *Tube) checkPaint() (field string, err error) {
	for b := range colour.Bands {
		k, s := t.Paint.K[b], t.Paint.S[b]
		if !(k > 0 && s > 0) || math.IsInf(k, 0) || math.IsInf(s, 0) {
			return "k", fmt.Errorf("at %[3]d nm K %[1]g and S %[2]g are not both above 0", k, s, colour.StartNM+b*colour.StepNM)
		}
	}
	return "", nil
}
