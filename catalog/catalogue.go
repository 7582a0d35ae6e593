package catalog

import (
	"embed"
	"fmt"
	"slices"
	"sync"

	"fewtubes/gamut/film"
)

//go:embed data/tubes.csv data/film.csv data/surface.csv
var builtin embed.FS

// Catalogue is a list of tubes with distinct ids, in the order they are shown:
// whites, yellows, oranges, reds, violets, blues, greens, earths, blacks.
type Catalogue struct {
	tubes []Tube
	index map[string]int
	scale film.Scale

	pigments func() *pigments // worked out when first asked for
	namings  func() []naming
}

// Scale is what the K and S of the tubes are counted in, the surface they were
// fitted under among it. A catalogue made by New has none.
func (c *Catalogue) Scale() film.Scale { return c.scale }

// Surface is the one the tubes were fitted under, as it is looked at.
func (c *Catalogue) Surface(v film.View) film.Surface { return c.scale.Surface.Viewed(v) }

// With is a catalogue of other tubes on the same scale.
func (c *Catalogue) With(tubes []Tube) (*Catalogue, error) {
	other, err := New(tubes)
	if err != nil {
		return nil, err
	}
	other.scale = c.scale
	return other, nil
}

// New makes a catalogue of the tubes given, in their order. Two tubes of one id
// are an error.
func New(tubes []Tube) (*Catalogue, error) {
	c := &Catalogue{tubes: slices.Clone(tubes), index: map[string]int{}}
	for i, t := range c.tubes {
		if _, twice := c.index[t.ID]; twice {
			return nil, fmt.Errorf("tube %q is listed twice", t.ID)
		}
		c.index[t.ID] = i
	}
	c.namings = namings(c.tubes)
	c.pigments = sync.OnceValue(func() *pigments { return pigmentsOf(c.tubes) })
	return c, nil
}

var readBuiltin = sync.OnceValues(func() (*Catalogue, error) { return Read(builtin, "data") })

// Builtin is the catalogue that comes with the program.
func Builtin() (*Catalogue, error) { return readBuiltin() }

// Tubes are all tubes in order; the caller owns the slice, not the lists in it.
func (c *Catalogue) Tubes() []Tube { return slices.Clone(c.tubes) }

// Find looks a tube up by id.
func (c *Catalogue) Find(id string) (Tube, bool) {
	i, ok := c.index[id]
	if !ok {
		return Tube{}, false
	}
	return c.tubes[i], true
}
