package report

import (
	"fmt"
	"math"
	"strings"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/gamut/film"
)

// Base is a mix that lies ready and is varied.
type Base struct {
	ID    string    `json:"id"`
	Parts Parts     `json:"parts"` // of tubes
	ML    int       `json:"ml"`    // for the picture of preparedFor, rounded up to five
	Uses  []BaseUse `json:"uses"`  // in the order of work
	of    hand.BaseOf
}

// BaseUse is a colour made from a base.
type BaseUse struct {
	Target string `json:"target"`
	ML     int    `json:"ml"` // of the base, rounded up
	recipe *hand.Recipe
}

// Handled is what is taken with the knife for all mixes: tubes and piles that lie
// ready, and the paints of these piles once.
type Handled struct {
	With    int `json:"with"`    // the bases
	Without int `json:"without"` // them
	bases   int
}

// takeBases takes the bases of a plan, and what they save.
func (p *Palette) takeBases(plan *hand.Plan) {
	if !plan.Gain.Asked {
		return
	}
	p.Handled = &Handled{plan.Gain.With, plan.Gain.Without, len(plan.Bases)}
	for _, b := range plan.Bases {
		base := Base{ID: b.ID, of: b.Of, Uses: []BaseUse{}}
		for _, part := range b.Of {
			base.Parts = append(base.Parts, Part{part.Tube, float64(part.Parts)})
		}
		if len(b.Uses) > 0 {
			base.ML = preparedML(b.Fraction)
		}
		for _, u := range b.Uses {
			ml := math.Ceil(preparedFor.SqueezedML() * u.Fraction)
			base.Uses = append(base.Uses, BaseUse{p.Targets[u.Target].Name, int(max(1, ml)), &plan.Recipes[u.Target]})
		}
		p.Bases = append(p.Bases, base)
	}
}

// preparedML is how much of a pile lies ready, for its share of the picture.
func preparedML(fraction float64) int {
	return int(max(preparedStep, math.Ceil(preparedFor.SqueezedML()*fraction/preparedStep)*preparedStep))
}

// base is a base, per volume.
func (l tubeList) base(of hand.BaseOf) (out film.Paint) {
	total := 0
	for _, p := range of {
		total += p.Parts
	}
	var paints []film.Paint
	var shares []float64
	for _, p := range of {
		paints, shares = append(paints, l.tube(p.Tube).Paint), append(shares, float64(p.Parts)/float64(total))
	}
	film.Mix(&out, paints, shares)
	return out
}

// sentence is what the bases save; empty where none were asked for.
func (h *Handled) sentence() string {
	switch {
	case h == nil:
		return ""
	case h.bases == 0:
		return fmt.Sprintf("No base was found that saves anything: mixed one by one, these colours take %d tubes and piles in hand.", h.Without)
	}
	out := fmt.Sprintf("All mixes together take %d tubes and piles in hand with the bases, %d without, the making of bases and prepared piles counted in", h.With, h.Without)
	switch {
	case h.With > h.Without:
		out += fmt.Sprintf(": the bases cost %d more", h.With-h.Without)
	case h.With == h.Without:
		out += ": the bases save nothing"
	}
	return out + "."
}

// basesHeading stands over the colours made from bases.
var basesHeading = fmt.Sprintf("From a base, in the order of work (for a picture of %.0fx%.0f cm)", preparedFor.WidthCM, preparedFor.HeightCM)

// baseGroup is a base and the colours made from it.
type baseGroup struct {
	Heading string
	Lines   []baseLine
}

type baseLine struct{ Name, Recipe, Ready string }

func (p *Palette) baseGroups(name func(string) string) (out []baseGroup) {
	for _, b := range p.Bases {
		group := baseGroup{Heading: capital(strings.ReplaceAll(b.ID, "-", " ")) + ": " + b.of.Words(name)}
		if len(b.Uses) > 0 {
			group.Heading += fmt.Sprintf(", %d ml", b.ML)
		}
		for _, u := range b.Uses {
			group.Lines = append(group.Lines, baseLine{u.Target, u.recipe.Words(name), fmt.Sprintf("%d ml of the base", u.ML)})
		}
		out = append(out, group)
	}
	return out
}

func (c *Choice) writeBases(b *strings.Builder, s Style, p Palette) {
	note := p.Handled.sentence()
	if note == "" {
		return
	}
	heading(b, s, basesHeading)
	b.WriteString(s.wrap("  ", 2, note))
	for _, group := range p.baseGroups(func(id string) string { return id }) {
		b.WriteString(s.wrap("  ", 4, group.Heading))
		if len(group.Lines) == 0 {
			b.WriteString(s.wrap("    ", 6, "no colour comes within its tolerance from it more plainly than by itself"))
		}
		width := widest(group.Lines, func(l baseLine) string { return l.Name })
		for _, l := range group.Lines {
			b.WriteString(s.wrapAfter("    "+pad(l.Name, width)+"  ", l.Recipe+", "+l.Ready))
		}
	}
}

// MixBase is a recipe as so much of a base and what is added.
type MixBase struct {
	Parts Parts `json:"parts"` // of the base
	Take  int   `json:"take"`
	Add   Parts `json:"add"`
}

// noBaseNote ends a verdict where bases were given.
const noBaseNote = " No base, with at most two additions, comes within the tolerance."

// partsOf are the tubes of a recipe, those in its base included; sum 1.
func partsOf(h *hand.Recipe) (out Parts) {
	for _, s := range h.Shares() {
		out = append(out, Part{s.ID, s.Fraction})
	}
	return out
}

// takeBase tells what the base is, and the order of mixing with it.
func (m *MixRecipe) takeBase(h *hand.Recipe, name func(string) string) {
	base := h.FromBase()
	m.FromBase = &MixBase{Take: h.Parts[0].Quarters / 4, Add: Parts{}}
	for _, p := range base.Of {
		m.FromBase.Parts = append(m.FromBase.Parts, Part{p.Tube, float64(p.Parts)})
	}
	called := strings.ReplaceAll(base.ID, "-", " ")
	names := []string{called}
	for _, p := range h.Parts[1:] {
		m.FromBase.Add = append(m.FromBase.Add, Part{p.Tube, p.Parts()})
		names = append(names, name(p.Tube))
	}
	m.Order = capital(called) + " is " + base.Of.Words(name) + "."
	if len(names) > 1 {
		m.Order += " " + orderSentence(names, 0)
	}
}
