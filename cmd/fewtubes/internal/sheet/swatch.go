package sheet

import (
	"fmt"
	"strings"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// Swatch is one mix as printed.
type Swatch struct {
	Parts   []int // by volume, one per tube of the row; 0 where a tube is left out
	Lab     colour.Lab
	RGB     [3]uint8 // coded sRGB, clipped
	Clipped bool     // the colour is outside sRGB: screen and print show a duller one
}

// Label is the recipe as parts in the order of the row's tubes, such as "3:1".
func (s Swatch) Label() string {
	words := make([]string, len(s.Parts))
	for i, n := range s.Parts {
		words[i] = fmt.Sprint(n)
	}
	return strings.Join(words, ":")
}

// Row is a line of mixes of the same tubes.
type Row struct {
	Tubes    []catalog.Tube
	Swatches []Swatch
}

// Name lists the tubes in the order of the parts.
func (r Row) Name() string {
	names := make([]string, len(r.Tubes))
	for i, t := range r.Tubes {
		names[i] = t.Name
	}
	return strings.Join(names, " : ")
}

// easel is the light and the surface a sheet's colours are seen with.
type easel struct {
	light   *colour.Light
	surface film.Surface
}

func (e easel) row(tubes []catalog.Tube, steps [][]int) Row {
	r := Row{Tubes: tubes}
	for _, parts := range steps {
		r.Swatches = append(r.Swatches, e.swatch(tubes, parts))
	}
	return r
}

// swatch mixes the tubes in these parts, as an opaque film.
func (e easel) swatch(tubes []catalog.Tube, parts []int) Swatch {
	paints := make([]film.Paint, len(tubes))
	amounts := make([]float64, len(tubes))
	for i := range tubes {
		paints[i], amounts[i] = tubes[i].Paint, float64(parts[i])
	}
	var mix film.Paint
	film.Mix(&mix, paints, amounts)
	seen := mix.Masstone(e.surface)
	s := printed(e.light.Lab(&seen))
	s.Parts = parts
	return s
}

// printed is a colour as a sheet shows it.
func printed(c colour.Lab) Swatch {
	rgb := c.SRGB()
	return Swatch{Lab: c, RGB: rgb.RGB8(), Clipped: !rgb.Displayable()}
}
