package solver

import (
	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// Target is a colour the scene needs.
type Target struct {
	Name      string
	Lab       colour.Lab // against the white of the problem's light
	Plane     string     // foreground, middle, distance, sky, or empty
	Area      float64    // relative area in the scene, >= 0; the weight of a miss
	Tolerance float64    // CIEDE2000 within which it counts as reached, > 0
}

// Limits are what the painter allows. Limits{Budget: -1} allows everything; a
// budget of 0 allows only tubes that cost nothing.
type Limits struct {
	MaxTubes  int        // 0: no limit
	Budget    int        // hundredths of a currency unit; < 0: no limit
	Avoid     []string   // hazard, opacity or lightfastness classes (catalog.Classes)
	Keep      []string   // tube ids that must be in the palette
	Never     []string   // tube ids that must not
	Only      []string   // if any: the catalogue is restricted to these ids
	Own       []string   // tube ids that cost nothing
	AtMostOne [][]string // of each group of ids at most one
}

// Preference ranks palettes of equal size.
type Preference string

const (
	// Accuracy: the least worst difference, as finely as an eye tells them apart
	// (below 1 alike, then in steps of 0.5), then fewest toxic or fugitive tubes, then price.
	Accuracy      Preference = "accuracy"
	Price         Preference = "price"         // the lowest sum, tubes owned cost nothing
	FewestHazards Preference = "hazards"       // the fewest hazard classes over all tubes
	Lightfast     Preference = "lightfastness" // the fewest tubes of the worst class, then of the next
)

// Problem is everything an answer depends on.
type Problem struct {
	Tubes         []catalog.Tube
	Targets       []Target
	Limits        Limits
	PaintsPerMix  int // most paints in one mix; 0: 4
	Surface       film.Surface
	Light         *colour.Light
	Prefer        Preference // empty: Accuracy
	MostPalettes  int        // palettes listed at most; 0: 24
	MaxPartsTotal int        // parts in a recipe at most; 0: 20
}
