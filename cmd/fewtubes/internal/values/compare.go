package values

import (
	"fmt"

	"fewtubes/cmd/fewtubes/internal/photo"
)

// Options say how a painting is compared with its reference.
type Options struct {
	Columns, Rows int   // of the grid of zones, >= 1
	Levels        int   // flat values in the plans, 2 or more
	Corners       *Quad // of the painting in its photograph; nil: looked for
	ReferenceCard *Card // grey cards; nil: exposures are matched by percentiles
	PaintingCard  *Card
}

// Zone is one field of the grid. Values are L*.
type Zone struct {
	Row, Column         int // from the top left, from 0
	Reference, Painting float64
}

// Difference is positive where the painting is too light.
func (z Zone) Difference() float64 { return z.Painting - z.Reference }

// Comparison is what the values of a painting do against its reference.
type Comparison struct {
	Reference, Painting Grey // aligned, of one size
	Zones               []Zone
	Plan                Plan // of the reference; both are laid out in it
	ReferenceShares     []float64
	PaintingShares      []float64
	Corners             Quad
	CornersFound        bool    // looked for and found
	Gain                float64 // on the light of the painting
	ByCard              bool
	Stretch             float64 // proportion of the painting over that of the reference, about
}

// CompareSize is the longer side, pixels, that pictures are compared at.
const CompareSize = 600

// Compare aligns the painting to the reference, matches the exposures and
// measures each zone.
func Compare(reference, painting *photo.Picture, o Options) (*Comparison, error) {
	c := &Comparison{Corners: Whole}
	if o.Corners != nil {
		c.Corners = *o.Corners
	} else {
		c.Corners, c.CornersFound = Corners(painting)
	}
	c.Stretch = c.Corners.proportion(painting.W, painting.H) / Whole.proportion(reference.W, reference.H)
	flat, err := Rectify(painting, c.Corners, reference.W, reference.H)
	if err != nil {
		return nil, err
	}
	gain, err := c.exposures(reference, painting, flat, o)
	if err != nil {
		return nil, err
	}
	c.Reference, c.Painting = greys(reference, gain), greys(flat, c.Gain)
	for r := range o.Rows {
		for k := range o.Columns {
			x0, x1 := float64(k)/float64(o.Columns), float64(k+1)/float64(o.Columns)
			y0, y1 := float64(r)/float64(o.Rows), float64(r+1)/float64(o.Rows)
			c.Zones = append(c.Zones, Zone{r, k, c.Reference.Mean(x0, y0, x1, y1), c.Painting.Mean(x0, y0, x1, y1)})
		}
	}
	c.plan(o.Levels)
	return c, nil
}

// exposures finds the gains: c.Gain on the painting, the other on the reference.
func (c *Comparison) exposures(reference, painting, flat *photo.Picture, o Options) (gain float64, err error) {
	if o.PaintingCard == nil {
		c.Gain = PercentileGain(reference, flat)
		return 1, nil
	}
	c.ByCard = true
	if c.Gain, err = CardGain(painting, *o.PaintingCard); err != nil {
		return 0, fmt.Errorf("painting card: %w", err)
	}
	if o.ReferenceCard == nil {
		return 1, nil
	}
	if gain, err = CardGain(reference, *o.ReferenceCard); err != nil {
		return 0, fmt.Errorf("reference card: %w", err)
	}
	return gain, nil
}

// squint is the radius of the slight blur, in a picture w wide, over which it is
// parted into flat values.
func squint(w int) int { return max(1, w/150) }

// plan lays both pictures out in the levels of the reference, as one squints.
func (c *Comparison) plan(levels int) {
	radius := squint(c.Reference.W)
	a, b := c.Reference.Blur(radius), c.Painting.Blur(radius)
	c.Plan = NewPlan(a, levels)
	c.ReferenceShares, c.PaintingShares = c.Plan.Shares(a), c.Plan.Shares(b)
}

// Plans are the two pictures in flat values.
func (c *Comparison) Plans() (reference, painting Grey) {
	radius := squint(c.Reference.W)
	return c.Plan.Flatten(c.Reference.Blur(radius)), c.Plan.Flatten(c.Painting.Blur(radius))
}
