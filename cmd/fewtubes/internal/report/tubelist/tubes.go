// Package tubelist lists tubes, names them in sentences, and holds the document of the
// tubes command.
package tubelist

import (
	"math"
	"slices"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/film/doubt"
	"fewtubes/gamut/portable"
)

// Line is what a painter reads about a tube.
type Line struct {
	ID            string      `json:"id"`
	Name          string      `json:"name"`
	Pigments      []string    `json:"pigments"`
	Basis         string      `json:"basis"`
	Hazards       []string    `json:"hazards"`
	Caution       string      `json:"caution"`
	Fails         []string    `json:"fails"`   // what a film of it may come to: fades, grows brittle
	Lasting       string      `json:"lasting"` // what to mind about that
	Lightfastness string      `json:"lightfastness"`
	Opacity       string      `json:"opacity"`
	Drying        string      `json:"drying"`
	Price         shown.Cents `json:"price"`
	PriceBand     int         `json:"price_band"`
	SizeML        float64     `json:"size_ml"`
	Own           bool        `json:"own"`
}

// NewLine is what a painter reads about a tube.
func NewLine(t *catalog.Tube) Line {
	return Line{
		ID: t.ID, Name: t.Name, Pigments: t.Pigments, Basis: string(t.Basis),
		Hazards: append([]string{}, t.Hazards...), Caution: t.Caution,
		Fails: append([]string{}, t.Fails()...), Lasting: t.Lasting(),
		Lightfastness: t.Lightfastness, Opacity: t.Opacity, Drying: t.Drying,
		Price: shown.Cents(t.Price), PriceBand: t.Band, SizeML: t.SizeML, Own: t.Have,
	}
}

// Catalogue is the document of the tubes command: every tube with its film
// constants and all it takes to compute the colour of a mix from them.
type Catalogue struct {
	Schema      string       `json:"schema"`
	Light       string       `json:"light"`
	Surface     film.Surface `json:"surface"`
	Wavelengths Wavelengths  `json:"wavelengths"`
	Weights     Weights      `json:"weights"`
	Draw        int          `json:"draw,omitempty"` // the plausible box shown; 0: the tubes as they stand
	Tubes       []TubeFull   `json:"tubes"`
	MunsellNote string       `json:"munsell_note,omitempty"`

	light   *colour.Light
	surface film.Surface
	white   *film.Paint
}

// Wavelengths are those of k, s and the weights, nm.
type Wavelengths struct {
	Start int `json:"start"`
	Step  int `json:"step"`
	Count int `json:"count"`
}

// Weights turn a reflectance (0..1) into XYZ, Y of the perfect diffuser 100.
type Weights struct {
	X     []float64  `json:"x"`
	Y     []float64  `json:"y"`
	Z     []float64  `json:"z"`
	White [3]float64 `json:"white"`
}

// TubeFull is a tube with its numbers.
type TubeFull struct {
	Line
	Source      string        `json:"source"`
	Density     float64       `json:"density"` // g/ml
	Lab         shown.Lab     `json:"lab"`     // masstone
	TintLab     shown.Lab     `json:"tint_lab"`
	Strength    shown.Tenths  `json:"tinting_strength"`  // CIEDE2000 between the tint and the white
	Munsell     string        `json:"munsell,omitempty"` // masstone
	TintMunsell string        `json:"tint_munsell,omitempty"`
	Parts       []Share       `json:"parts,omitempty"`
	Doubt       *doubt.Spread `json:"doubt,omitempty"`
	Off         *Off          `json:"off,omitempty"` // of a tube shown alone
	K           []float64     `json:"k"`
	S           []float64     `json:"s"`

	tube catalog.Tube
}

// Share is one tube of a mixture and its share of the volume.
type Share struct {
	Tube  string           `json:"tube"`
	Share shown.Millionths `json:"share"`
}

// Off is how far two in three plausible tubes lie at most.
type Off struct {
	Strength shown.Tenths `json:"strength"` // times as strong or as weak
	Masstone shown.Tenths `json:"masstone_de"`
	Tint     shown.Tenths `json:"tint_de"`
}

const schemaTubes = "fewtubes tubes 1"

// NewCatalogue builds the document of the tubes given.
func NewCatalogue(tubes []catalog.Tube, surface film.Surface, light *colour.Light) *Catalogue {
	c := &Catalogue{
		Schema:      schemaTubes,
		Light:       light.Name,
		Surface:     surface,
		Wavelengths: Wavelengths{colour.StartNM, colour.StepNM, colour.Bands},
		Weights: Weights{
			X: light.Weights[0][:], Y: light.Weights[1][:], Z: light.Weights[2][:],
			White: [3]float64{light.White.X, light.White.Y, light.White.Z},
		},
		Tubes:   []TubeFull{},
		light:   light,
		surface: surface,
	}
	c.white = WhiteOf(tubes)
	for i := range tubes {
		c.Tubes = append(c.Tubes, c.full(&tubes[i]))
	}
	return c
}

// NewDrawnCatalogue is NewCatalogue of plausible box n, from 1 on: each tube as it
// may be from another maker.
func NewDrawnCatalogue(tubes []catalog.Tube, n int, surface film.Surface, light *colour.Light) *Catalogue {
	drawn, paints := slices.Clone(tubes), make([]film.Paint, len(tubes))
	catalog.NewBoxes(tubes).Draw(n, paints)
	for i := range drawn {
		drawn[i].Paint = paints[i]
	}
	c := NewCatalogue(drawn, surface, light)
	c.Draw = n
	return c
}

// Only keeps one tube and says how far it may be off, or none when there is no
// such id.
func (c *Catalogue) Only(id string) *Catalogue {
	one := *c
	one.Tubes = slices.DeleteFunc(slices.Clone(c.Tubes), func(t TubeFull) bool { return t.ID != id })
	for i := range one.Tubes {
		if t := &one.Tubes[i]; c.Draw == 0 {
			off := catalog.NewOff(&t.tube, c.white, c.light, c.surface)
			t.Off = &Off{shown.Tenths(off.Strength), shown.Tenths(off.Masstone), shown.Tenths(off.Tint)}
		}
	}
	return &one
}

func (c *Catalogue) seenUnder() string { return shown.SightOf(c.light, c.surface).SeenUnder() }

func (c *Catalogue) full(t *catalog.Tube) TubeFull {
	swatch := catalog.NewSwatch(t, c.white, c.light, c.surface)
	full := TubeFull{
		Line:   NewLine(t),
		Source: t.Source, Density: t.Density,
		Lab: shown.LabOf(swatch.Masstone), TintLab: shown.LabOf(swatch.Tint), Strength: shown.Tenths(swatch.TintingStrength),
		K: sixDigits(t.Paint.K[:]), S: sixDigits(t.Paint.S[:]),
		tube: *t,
	}
	for _, p := range t.Parts {
		full.Parts = append(full.Parts, Share{p.Tube, shown.Millionths(p.Share)})
	}
	if len(t.Parts) == 0 {
		full.Doubt = &t.Doubt
	}
	return full
}

// WhiteOf finds the white that tints are shown with, or stands in for it.
func WhiteOf(tubes []catalog.Tube) *film.Paint {
	if i := catalog.WhiteOf(tubes); i >= 0 {
		return &tubes[i].Paint
	}
	return flatWhite()
}

// flatWhite stands in where no tube is white: it scatters 1 and absorbs next to
// nothing.
func flatWhite() *film.Paint {
	var p film.Paint
	for b := range p.K {
		p.K[b], p.S[b] = 1e-4, 1
	}
	return &p
}

// sixDigits keeps six significant digits, far below what a mix shows.
func sixDigits(v []float64) []float64 {
	out := make([]float64, len(v))
	for i, x := range v {
		if x != 0 {
			scale := math.Pow10(5 - portable.Decade(math.Abs(x)))
			x = math.Round(x*scale) / scale
		}
		out[i] = x
	}
	return out
}

// ShowMunsell adds the notation of every tube's masstone and tint.
func (c *Catalogue) ShowMunsell() {
	for i := range c.Tubes {
		t := &c.Tubes[i]
		t.Munsell, t.TintMunsell = shown.Munsell(t.Lab.Colour()), shown.Munsell(t.TintLab.Colour())
	}
	c.MunsellNote = shown.MunsellNote(c.Light)
}

// PriceWords is what the tube costs, in words.
func (t Line) PriceWords() string {
	if t.Own {
		return "own"
	}
	return t.Price.String()
}
