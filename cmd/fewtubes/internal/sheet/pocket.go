package sheet

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"slices"
	"strings"
	"sync"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/gamut/colour"
	"fewtubes/solver"

	"github.com/golang/freetype/truetype"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/math/fixed"
)

// Pocket is a scene as cards for a phone: one picture with the tubes and all recipes
// in brief, in as many parts as it takes, and one for each colour.
type Pocket struct {
	title  string
	tubes  []pocketRow
	brief  []pocketRow
	first  []string // what to let down first
	close  string   // cautions, in short
	colour []pocketColour
}

// pocketRow is a swatch, what stands before it and what it is.
type pocketRow struct {
	before      string
	swatches    []color.Color
	words, note string
}

type pocketColour struct {
	name, look, judged string
	wanted, mixed      color.Color
	rows               []pocketRow
}

// PocketPicture is a card as a picture.
type PocketPicture struct {
	Name string // of its file
	PNG  []byte
}

// NewPocket works out the cards of a palette found for the problem. short names its tubes.
func NewPocket(ctx context.Context, title string, p *solver.Problem, palette *solver.Palette, m hand.Measures, short func(id string) string) (*Pocket, error) {
	plan, err := hand.New(ctx, p, palette.Tubes, m)
	if err != nil {
		return nil, err
	}
	out := &Pocket{title: title}
	e := easel{p.Light, p.Surface}
	find := func(id string) int { return slices.IndexFunc(p.Tubes, func(t catalog.Tube) bool { return t.ID == id }) }
	name := func(id string) string { return catalog.InSentence(p.Tubes[find(id)].Name) }
	var tubes []catalog.Tube
	for _, id := range palette.Tubes {
		t := p.Tubes[find(id)]
		tubes = append(tubes, t)
		out.tubes = append(out.tubes, pocketRow{
			swatches: []color.Color{inked(e.swatch([]catalog.Tube{t}, []int{1}).Lab)},
			words:    upperFirst(short(id)), note: t.Name + ", " + strings.Join(t.Pigments, " + "),
		})
	}
	out.close = closing(tubes, short)
	for i := range plan.Prepared {
		pile := &plan.Prepared[i]
		out.first = append(out.first, fmt.Sprintf("%s: %s", pile.Brief(short), pile.Words(short)))
	}
	for i := range plan.Recipes {
		r, t := &plan.Recipes[i], &p.Targets[i]
		de := shown.DE(r.DE, t.Tolerance, r.DE <= t.Tolerance)
		c := pocketColour{
			name: t.Name, look: fmt.Sprintf("value %s, %s", shown.Value(t.Lab.L), colour.Name(t.Lab)),
			judged: upperFirst(shown.Judgement(de)), wanted: inked(t.Lab), mixed: inked(r.Lab),
		}
		if !palette.Targets[i].Reached {
			c.judged = "Out of reach: " + missWords(r.DE, r.Lab, t.Lab)
		}
		for _, part := range r.Parts {
			paint := part.Paint(func(id string) *catalog.Tube { return &p.Tubes[find(id)] })
			seen := paint.Masstone(p.Surface)
			what, note := part.Named(name)
			c.rows = append(c.rows, pocketRow{part.Count(), []color.Color{inked(p.Light.Lab(&seen))}, upperFirst(what), note})
		}
		out.colour = append(out.colour, c)
		out.brief = append(out.brief, pocketRow{fmt.Sprint(i + 1), []color.Color{c.wanted, c.mixed}, t.Name, r.Brief(short)})
	}
	return out, nil
}

// Measures of a card, pixels: as high and wide as a phone held upright shows whole.
const (
	cardWide, cardHigh = 1080, 1920
	cardMargin         = 60
	cardWidth          = cardWide - 2*cardMargin
)

var (
	cardMount = color.Gray{0x77}
	cardInk   = color.Gray{0x16}
	cardSoft  = color.Gray{0x55}
)

func inked(c colour.Lab) color.Color {
	rgb := c.SRGB().RGB8()
	return color.RGBA{rgb[0], rgb[1], rgb[2], 255}
}

// Pictures draws the cards, numbered so that a gallery shows them in order.
func (p *Pocket) Pictures(ctx context.Context) ([]PocketPicture, error) {
	var out []PocketPicture
	add := func(name string, c *card) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		var b bytes.Buffer
		err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&b, c.img)
		out = append(out, PocketPicture{fmt.Sprintf("%02d %s.png", len(out), name), b.Bytes()})
		return err
	}
	for i, c := range p.overview() {
		name := "lid card"
		if i > 0 {
			name = fmt.Sprintf("lid card %d", i+1)
		}
		if err := add(name, c); err != nil {
			return nil, err
		}
	}
	for i := range p.colour {
		if err := add(fileName(p.colour[i].name), p.colour[i].card(fmt.Sprintf("%d of %d", i+1, len(p.colour)))); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// fileName is a name that every system keeps.
func fileName(name string) string {
	const most = 60
	kept := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9':
			return r
		case r == ' ', r == '-':
			return r
		}
		return -1
	}, name)
	return strings.TrimSpace(kept[:min(len(kept), most)])
}

// overview lists tubes and recipes in brief, on as many cards as it takes.
func (p *Pocket) overview() (out []*card) {
	c := newCard()
	c.paragraph(bold, 64, cardInk, p.title)
	c.y += 20
	for _, t := range p.tubes {
		c.row(t, 56, 40, 30)
	}
	if len(p.first) > 0 {
		c.y += 10
		c.paragraph(regular, 32, cardInk, "Prepare first: "+strings.Join(p.first, "; ")+".")
	}
	c.y += 20
	for _, row := range p.brief {
		if c.y+c.rowHeight(row, 56, 36, 30) > cardHigh-cardMargin {
			out = append(out, c)
			c = newCard()
			c.paragraph(regular, 32, cardSoft, p.title)
			c.y += 16
		}
		c.row(row, 56, 36, 30)
	}
	if face := typed(regular, 30); c.y+20+lineHeight(30)*len(broken(face, cardWidth, p.close)) > cardHigh-cardMargin {
		out = append(out, c)
		c = newCard()
	}
	c.y += 20
	c.paragraph(regular, 30, cardSoft, p.close)
	return append(out, c)
}

// card is one colour, large.
func (p *pocketColour) card(place string) *card {
	c := newCard()
	c.paragraph(regular, 36, cardSoft, place)
	c.paragraph(bold, 84, cardInk, p.name)
	c.paragraph(regular, 40, cardSoft, p.look)
	c.y += 24
	high := 380
	c.fill(image.Rect(0, c.y, cardWide, c.y+high), cardMount)
	half := cardWide / 2
	c.fill(image.Rect(cardMargin, c.y+40, half, c.y+high-40), p.wanted)
	c.fill(image.Rect(half, c.y+40, cardWide-cardMargin, c.y+high-40), p.mixed)
	c.y += high + 16
	c.paragraph(regular, 40, cardInk, "Left wanted, right mixed. "+p.judged+".")
	c.y += 30
	size := 110
	for size > 60 && c.y+len(p.rows)*(size+20) > cardHigh-cardMargin {
		size -= 10
	}
	for _, row := range p.rows {
		c.row(row, size, size/2+4, 38)
	}
	return c
}

// card is a picture that is filled from above.
type card struct {
	img *image.RGBA
	y   int
}

func newCard() *card {
	c := &card{image.NewRGBA(image.Rect(0, 0, cardWide, cardHigh)), cardMargin}
	c.fill(c.img.Bounds(), color.Gray{0xf2})
	return c
}

func (c *card) fill(r image.Rectangle, ink color.Color) {
	draw.Draw(c.img, r, image.NewUniform(ink), image.Point{}, draw.Src)
}

// Weights of type.
const (
	regular = iota
	bold
)

var typefaces = sync.OnceValue(func() (out [2]*truetype.Font) {
	for i, data := range [][]byte{regular: goregular.TTF, bold: gobold.TTF} {
		var err error
		if out[i], err = truetype.Parse(data); err != nil {
			panic("sheet: " + err.Error()) // they come with the program
		}
	}
	return out
})

// typed is a face of a size in pixels.
func typed(weight, size int) font.Face {
	return truetype.NewFace(typefaces()[weight], &truetype.Options{Size: float64(size), DPI: 72, Hinting: font.HintingFull})
}

func lineHeight(size int) int { return int(math.Round(1.25 * float64(size))) }

// broken is a text in lines no wider than so many pixels.
func broken(face font.Face, width int, text string) (lines []string) {
	line := ""
	for word := range strings.FieldsSeq(text) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && font.MeasureString(face, longer).Ceil() > width {
			lines, line = append(lines, line), word
			continue
		}
		line = longer
	}
	return append(lines, line)
}

func (c *card) write(face font.Face, x, baseline int, ink color.Color, text string) {
	d := font.Drawer{Dst: c.img, Src: image.NewUniform(ink), Face: face, Dot: fixed.P(x, baseline)}
	d.DrawString(text)
}

// text writes lines from a place downwards and returns where they end.
func (c *card) text(weight, size, x, y, width int, ink color.Color, text string) int {
	face := typed(weight, size)
	defer face.Close()
	for _, line := range broken(face, width, text) {
		c.write(face, x, y+size, ink, line)
		y += lineHeight(size)
	}
	return y
}

func (c *card) paragraph(weight, size int, ink color.Color, text string) {
	c.y = c.text(weight, size, cardMargin, c.y, cardWidth, ink, text)
}

// beforeWide is the room of what stands before the swatches of a row: a count.
const beforeWide = 180

// row writes a row whose swatch is so high.
func (c *card) row(r pocketRow, high, size, note int) {
	from := c.y
	x, room := cardMargin, beforeWide
	if r.before != "" {
		weight, before := bold, size
		if strings.Contains(r.before, " ") { // a touch
			before = min(size, 34)
		}
		if len(r.swatches) > 1 {
			room = 70
		}
		c.text(weight, before, x, c.y+(high-lineHeight(before))/2, cardWidth, cardInk, r.before)
		x += room
	}
	for _, ink := range r.swatches {
		wide := high / len(r.swatches) * 3 / 2
		c.fill(image.Rect(x-2, c.y, x+wide, c.y+high), cardSoft)
		c.fill(image.Rect(x, c.y+2, x+wide-2, c.y+high-2), ink)
		x += wide
	}
	x += 24
	width := cardWide - cardMargin - x
	below := c.text(regular, size, x, c.y, width, cardInk, r.words)
	if r.note != "" {
		below = c.text(regular, note, x, below, width, cardSoft, r.note)
	}
	c.y = max(below, from+high) + 18
}

// rowHeight is what row takes, at most.
func (c *card) rowHeight(r pocketRow, high, size, note int) int {
	face := typed(regular, note)
	defer face.Close()
	width := cardWidth - beforeWide - 3*high/2
	return max(high, lineHeight(size)+lineHeight(note)*len(broken(face, width, r.note))) + 18
}
