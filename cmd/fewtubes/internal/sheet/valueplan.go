package sheet

import (
	"fmt"

	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/colour"
)

// ValuePlan is a sheet to paint a picture's values from: the picture in greys, and
// the ways to part it into few, each with room to paint its steps.
type ValuePlan struct {
	Title   string
	Caption string // of the picture
	Grey    values.Grey
	Plans   []values.Alternative
}

// NewValuePlan is the sheet of a picture's plans.
func NewValuePlan(title, caption string, g values.Grey, plans []values.Alternative) *ValuePlan {
	return &ValuePlan{title, caption, g, plans}
}

const planFoot = "Areas are parts of the picture. Judge by your own greys."

// PDF draws the sheet on one page.
func (v *ValuePlan) PDF(paper Paper) ([]byte, error) {
	p := newPress(paper, v.Title, planFoot)
	p.title(v.Title)
	p.y++
	p.paragraph(nameSize, "Squint, and choose one plan before you mix a colour: one large dark and one large light that hold together carry farther than many small ones. "+
		"Under each step is room to paint its grey; v is the value, 0 black to 10 white.")
	p.y++
	width := float64((p.inner() - gutter) / 2)
	most := float64((paper.Height-2*margin-p.y)/2) - 40
	bottom := p.y
	for i := range len(v.Plans) + 1 {
		x := margin + float64(float64(i%2)*(width+gutter))
		if i%2 == 0 {
			p.y = bottom + 2
		}
		var below float64
		var err error
		if i == 0 {
			below, err = p.greyPicture(x, p.y, width, most, v.Caption, v.Grey)
		} else {
			below, err = p.plan(x, p.y, width, most, v.Grey, &v.Plans[i-1])
		}
		if err != nil {
			return nil, err
		}
		bottom = max(bottom, below)
	}
	return p.finish()
}

// greyPicture prints a picture under its name and returns the y below.
func (p *press) greyPicture(x, y, w, h float64, name string, g values.Grey) (float64, error) {
	img := g.Image()
	high := min(h, w/shapeOf(img))
	p.bold(x, y, w, nameSize, upperFirst(name))
	return y + 4.5 + high + 1.5, p.picture(x, y+4.5, high*shapeOf(img), high, img)
}

// plan prints a picture in few values with the ladder of its steps, darkest left,
// room to paint each, and returns the y below.
func (p *press) plan(x, y, w, h float64, g values.Grey, a *values.Alternative) (float64, error) {
	y, err := p.greyPicture(x, y, w, h, a.Name, a.Plan.Flatten(g))
	if err != nil {
		return y, err
	}
	step := w / float64(len(a.Plan.Levels))
	for k, l := range a.Plan.Levels {
		left := x + float64(float64(k)*step)
		p.swatch(left, y, step, 6, printed(colour.Lab{L: l}))
		p.frame(left, y+6, step, cellHeight)
		p.text(left+1, y+7+cellHeight, step-1, labelSize, fmt.Sprintf("v %.1f, %.0f %%", l/10, 100*a.Shares[k]))
	}
	y += 7 + cellHeight + labelSize*pointMM*leading + 0.5
	words := fmt.Sprintf("Largest dark %.0f %%, light %.0f %%", 100*a.Dark, 100*a.Light)
	if !a.Together() {
		words += ": scattered"
	}
	p.text(x, y, w, labelSize, words+".")
	return y + 5, nil
}
