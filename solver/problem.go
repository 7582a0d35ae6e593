package solver

import (
	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
)

// Target is a colour the scene needs.
type Target struct {
	Name      string
	Lab       colour.Lab // against the white of the problem's light
	Plane     string     // foreground, middle, distance, sky, or empty
	Area      float64    // relative area in the scene, >= 0; the weight of a miss
	Tolerance float64    // CIEDE2000 within which it counts as reached, > 0
}

// Limits are what the painter allows; the zero value allows everything.
type Limits struct {
	MaxTubes  int // 0: no limit
	Budget    Budget
	Avoid     []string   // hazard, opacity or lightfastness classes (catalog.Classes)
	Keep      []string   // tube ids that must be in the palette
	Never     []string   // tube ids that must not
	Only      []string   // if any: the catalogue is restricted to these ids
	Own       []string   // tube ids that cost nothing
	AtMostOne [][]string // of each group of ids at most one

	// FewestToBuy puts palettes first that hold fewest tubes not owned, and of
	// those the smallest, instead of the smallest of all.
	FewestToBuy bool
	toBuy       Budget // so many tubes not owned at most: what FewestToBuy came to
}

// Budget is the most that a palette may cost; the zero value is no limit.
type Budget struct {
	bounded bool
	most    int
}

// Spend is a budget of so many hundredths of a currency unit, >= 0. Spend(0)
// allows only tubes that cost nothing.
func Spend(hundredths int) Budget { return Budget{true, max(0, hundredths)} }

// Most is what may be spent, in hundredths, where that is bounded.
func (b Budget) Most() (hundredths int, bounded bool) { return b.most, b.bounded }

func (b Budget) allows(cost int) bool { return !b.bounded || cost <= b.most }

// Preference ranks palettes of equal size.
type Preference string

const (
	// Usual: the fewest drawbacks, then as rank orders those compared.
	Usual Preference = "usual"
	// Accuracy: the least worst difference, as finely as an eye tells them apart
	// (below 1 alike, then in steps of 0.5), then the fewest drawbacks, then price.
	Accuracy      Preference = "accuracy"
	Price         Preference = "price"         // the lowest sum, tubes owned cost nothing
	FewestHazards Preference = "hazards"       // the fewest hazard classes over all tubes
	Lightfast     Preference = "lightfastness" // the fewest tubes of the worst class, then of the next
	Holds         Preference = "holds"         // the most plausible boxes in which it holds (Doubt), of UsualDraws
)

// Problem is everything an answer depends on.
type Problem struct {
	Tubes         []catalog.Tube
	Targets       []Target
	Limits        Limits
	PaintsPerMix  int           // most paints in one mix; 0: 4
	Surface       film.Surface  // zero: film.Dry, under which the catalogue's K and S were fitted
	Light         *colour.Light // nil: D65
	Prefer        Preference    // empty: Usual
	MostPalettes  int           // palettes listed at most; 0: 24, or all that the usual order compares
	MaxPartsTotal int           // parts in a recipe at most; 0: 20
	ByHand        ByHand        // what a hand cannot mix does not count as reached
}

// ByHand says whether only recipes of a hand count: straight tubes and touches of up
// to three paints and a white (recipe.Hand), in at most MaxPartsTotal parts. Palettes
// of a size are then not told apart by how near they come: by accuracy those of the
// fewest drawbacks come first.
type ByHand int

const (
	Freely   ByHand = iota // any volumes
	Straight               // straight tubes and touches alone
	LetDown                // one paint of a recipe may be let down in the white
)

// order is what a preference comes to: weights whose sum is made least, exactly,
// among the smallest palettes; none for accuracy, which is no sum over tubes.
//
//   - usual: drawbacks, and of as many the fewest convenience mixtures and tubes
//     whose paint is estimated, since later keys are looked at for few palettes only
//   - price: hundredths, owned tubes 0
//   - hazards: how many hazard classes the tubes carry, each tube counted
//   - lightfastness: fewest tubes of the worst class, then of the next; a tube
//     of unknown class counts as III
func (p Preference) order(tubes []catalog.Tube) choice.Order {
	each := func(weight func(t *catalog.Tube, size int) int) choice.Order {
		return choice.Order{Name: string(p), Weigh: func(_ *cover.Rules, size int) []int {
			out := make([]int, len(tubes))
			for i := range tubes {
				out[i] = weight(&tubes[i], size)
			}
			return out
		}}
	}
	switch p {
	case Usual:
		return each(func(t *catalog.Tube, size int) int {
			return drawbacks(t)*(2*size+1) + classed(t, "convenience", "estimated")
		})
	case Price:
		return choice.Order{Name: string(p), Weigh: func(r *cover.Rules, _ int) []int { return r.Weights }}
	case FewestHazards:
		return each(func(t *catalog.Tube, _ int) int { return len(t.Hazards) })
	case Lightfast:
		return each(func(t *catalog.Tube, size int) int { return fading(t.Lightfastness, size) })
	}
	return choice.Order{Name: string(p)}
}

// fading weighs a lightfastness class so that no number of better tubes in a
// palette of the size outweighs a worse one.
func fading(class string, size int) int {
	weight := 1
	for _, c := range []string{"II", "III", "IV", "V"} {
		if class == c {
			return weight
		}
		weight *= size + 1
	}
	if class == "I" {
		return 0
	}
	return size + 1
}

// drawbacks counts what a painter holds against a tube where another would do: that it
// is toxic, that it fades, that its film grows brittle.
func drawbacks(t *catalog.Tube) int { return classed(t, "toxic", "fugitive", "brittle") }

// classed counts the classes that a tube is in.
func classed(t *catalog.Tube, classes ...string) (n int) {
	for _, class := range classes {
		if t.InClass(class) {
			n++
		}
	}
	return n
}
