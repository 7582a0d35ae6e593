package readings

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"fewtubes/cmd/fewtubes/internal/plain"
)

// Recipe is what a sample is made of.
type Recipe struct {
	Parts     []Part // empty: the bare chart of Backing
	ByWeight  bool
	Backing   Backing
	Thickness float64 // of the film, micrometres; 0: not said
}

// ParseRecipe reads a recipe text; msg is empty where it is sound.
func ParseRecipe(text string) (r Recipe, msg string) {
	words := strings.Fields(strings.ToLower(text))
	if n := len(words); n == 2 && words[0] == "bare" {
		b, ok := parseBacking(words[1])
		if !ok || b == Opaque {
			return r, fmt.Sprintf("bare %s is neither bare white nor bare black", clip(words[1]))
		}
		return Recipe{Backing: b}, ""
	}
	if i := slices.Index(words, "over"); i >= 0 && i < len(words)-1 {
		b, ok := parseBacking(words[i+1])
		if !ok {
			return r, fmt.Sprintf("over %s is neither over white nor over black", clip(words[i+1]))
		}
		if r.Thickness, msg = parseThickness(strings.Join(words[i+2:], "")); msg != "" {
			return r, msg
		}
		r.Backing, words = b, words[:i]
	}
	grams, plain := 0, 0
	for part := range strings.SplitSeq(strings.Join(words, " "), "+") {
		p, weighed, msg := parsePart(part)
		if msg != "" {
			return r, msg
		}
		if weighed {
			grams++
		} else {
			plain++
		}
		for _, q := range r.Parts {
			if q.Tube == p.Tube {
				return r, p.Tube + " is in it twice"
			}
		}
		if r.Parts = append(r.Parts, p); len(r.Parts) > maxTubes {
			return r, "too many parts"
		}
	}
	if grams > 0 && plain > 0 {
		return r, "some parts are weighed and some are not"
	}
	r.ByWeight = grams > 0
	return r, ""
}

// micrometre are the ways to write it, the micro sign and the Greek letter among
// them.
var micrometre = []string{"um", "\u00b5m", "\u03bcm"}

// parseThickness reads 24um; nothing is no thickness.
func parseThickness(text string) (um float64, msg string) {
	if text == "" {
		return 0, ""
	}
	for _, unit := range micrometre {
		if number, ok := strings.CutSuffix(text, unit); ok {
			um, err := parseValue(number)
			if err != nil || !(um > 0 && um < 1e4) {
				return 0, fmt.Sprintf("the thickness %s is not above 0", clip(text))
			}
			return um, ""
		}
	}
	return 0, fmt.Sprintf("%s after the ground is no thickness such as 24 um", clip(text))
}

// signs are those that stand in names of tubes and not in what they are kept by.
var signs = strings.NewReplacer("'", "", "’", "", "(", " ", ")", " ")

// parsePart reads "2 g ultramarine-blue @1.6" and shorter forms.
func parsePart(text string) (p Part, weighed bool, msg string) {
	if before, after, ok := strings.Cut(text, ":"); ok { // 3:ultramarine-blue, as parts are written elsewhere; not 3 PB15:1
		if _, _, number := amount(strings.TrimSpace(before)); number {
			text = before + " " + after
		}
	}
	words := strings.Fields(signs.Replace(text))
	p.Amount = 1
	if len(words) == 0 {
		return p, false, "a part is empty"
	}
	if v, unit, ok := amount(words[0]); ok {
		if !(v > 0) || v > 1e6 {
			return p, false, fmt.Sprintf("the amount %s is not above 0", clip(words[0]))
		}
		p.Amount, words = v, words[1:]
		if unit == "" && len(words) > 1 && (words[0] == "g" || words[0] == "ml") {
			unit, words = words[0], words[1:]
		}
		weighed = unit == "g"
	}
	if n := len(words); n > 0 && strings.HasPrefix(words[n-1], "@") {
		v, err := strconv.ParseFloat(words[n-1][1:], 64)
		if err != nil || !(v >= 0.5 && v <= 12) {
			return p, false, fmt.Sprintf("the density %s is not a number of g/ml from 0.5 to 12", clip(words[n-1]))
		}
		p.Density, words = v, words[:n-1]
	}
	if p.Tube = strings.Join(words, "-"); p.Tube == "" {
		return p, false, "a part names no tube"
	}
	for _, c := range p.Tube {
		if !(c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '-' || c == ':') {
			return p, false, fmt.Sprintf("the tube %q is not named in plain letters, figures and hyphens", clip(p.Tube))
		}
	}
	if len(p.Tube) > 60 {
		return p, false, "the name of a tube is too long"
	}
	return p, weighed, ""
}

// amount reads 2, 2g and 2ml.
func amount(word string) (v float64, unit string, ok bool) {
	for _, u := range []string{"ml", "g"} {
		if cut, found := strings.CutSuffix(word, u); found {
			word, unit = cut, u
			break
		}
	}
	if word == "" || !strings.ContainsAny(word[:1], "0123456789.-+") {
		return 0, "", false
	}
	v, err := strconv.ParseFloat(word, 64)
	return v, unit, err == nil && !math.IsInf(v, 0) && !math.IsNaN(v)
}

func parseBacking(word string) (Backing, bool) {
	switch strings.ToLower(strings.TrimSpace(word)) {
	case "", "opaque":
		return Opaque, true
	case "white":
		return OverWhite, true
	case "black":
		return OverBlack, true
	}
	return Opaque, false
}

// clip keeps a quoted field short.
func clip(s string) string { return plain.Short(s) }

// String is the recipe as ParseRecipe reads it.
func (r Recipe) String() string {
	var words []string
	for _, p := range r.Parts {
		text := strconv.FormatFloat(p.Amount, 'g', -1, 64)
		if r.ByWeight {
			text += " g"
		}
		text += " " + p.Tube
		if p.Density > 0 {
			text += " @" + strconv.FormatFloat(p.Density, 'g', -1, 64)
		}
		words = append(words, text)
	}
	text := strings.Join(words, " + ")
	if len(r.Parts) == 0 {
		return "bare " + r.Backing.String()
	}
	if r.Backing != Opaque {
		text += " over " + r.Backing.String()
		if r.Thickness > 0 {
			text += " " + strconv.FormatFloat(r.Thickness, 'f', -1, 64) + " um"
		}
	}
	return text
}

// Same reports whether two recipes are of one mixture, laid out alike.
func (r Recipe) Same(other Recipe) bool {
	const alike = 1e-9
	if len(r.Parts) != len(other.Parts) || r.ByWeight != other.ByWeight || r.Backing != other.Backing || r.Thickness != other.Thickness {
		return false
	}
	share := func(of Recipe, p Part) float64 {
		sum := 0.0
		for _, q := range of.Parts {
			sum += q.Amount
		}
		return p.Amount / sum
	}
	for _, p := range r.Parts {
		i := slices.IndexFunc(other.Parts, func(q Part) bool { return q.Tube == p.Tube })
		if i < 0 || math.Abs(share(r, p)-share(other, other.Parts[i])) > alike || p.Density != other.Parts[i].Density {
			return false
		}
	}
	return true
}
