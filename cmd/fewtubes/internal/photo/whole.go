package photo

import (
	"context"
	"image"

	"fewtubes/gamut/colour"
)

// Whole is a photograph in its own size, upright, as its file codes it: it is never
// held whole in wide numbers.
type Whole struct {
	Format string // jpeg, png, webp, tiff or heic
	W, H   int    // pixels, upright
	Notes  []string

	name  string
	img   image.Image
	light linearizer
	turn  int // EXIF orientation
}

// OpenWhole reads a photograph and gives up with the context's error when that
// ends. Its errors are those of Open.
func OpenWhole(ctx context.Context, path string) (*Whole, error) {
	data, err := readFile(path)
	if err != nil {
		return nil, err
	}
	return decodeWhole(ctx, path, data)
}

func newWhole(name, format string, img image.Image, m metadata) (*Whole, error) {
	light := linearize(img, &m)
	size := img.Bounds().Size()
	if err := checkSize(name, size.X, size.Y); err != nil {
		return nil, err
	}
	w := &Whole{Format: format, W: size.X, H: size.Y, Notes: m.notes, name: name, img: img, light: light, turn: m.orientation}
	if w.turned() {
		w.W, w.H = w.H, w.W
	}
	return w, nil
}

// turned reports whether rows and columns change places.
func (w *Whole) turned() bool { return w.turn >= 5 && w.turn <= 8 }

// Averaged is the photograph averaged in linear light as Open does.
func (w *Whole) Averaged(ctx context.Context, longest int) (*Picture, error) {
	size := w.img.Bounds().Size()
	p := &Picture{Format: w.Format, FullW: size.X, FullH: size.Y, Notes: w.Notes}
	p.W, p.H = fit(p.FullW, p.FullH, longest)
	opaque := p.average(ctx, w.img, w.light)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if !opaque {
		return nil, &Error{File: w.name, Msg: "the picture is transparent all over", Remedy: "lay it on a background in an image editor"}
	}
	p.turn(w.turn)
	return p, nil
}

// Rows reads the photograph line by line, from the top, as the file codes it: R, G,
// B and how opaque it is, four bytes a pixel; Light tells what the codes are. It
// serves any number of goroutines, each with a reader of its own.
func (w *Whole) Rows() func(y int, dst []uint8) { return rows(w.img) }

// Upright makes the photograph stand upright in its rows, too, where it was taken
// askew.
func (w *Whole) Upright(ctx context.Context) error {
	if w.turn < 2 || w.turn > 8 {
		return nil
	}
	size := w.img.Bounds().Size()
	read, row := rows(w.img), make([]uint8, 4*size.X)
	stood := image.NewNRGBA(image.Rect(0, 0, w.W, w.H))
	back := upright([]int{0, 1, 2, 3, 4, 5, 8, 7, 6}[w.turn], w.W, w.H) // a quarter turn is undone by the other
	for y := range size.Y {
		if err := ctx.Err(); err != nil {
			return err
		}
		read(y, row)
		for x := range size.X {
			ux, uy := back(x, y)
			copy(stood.Pix[4*(uy*w.W+ux):][:4], row[4*x:])
		}
	}
	w.img, w.turn = stood, 1
	return nil
}

// Light is the light of coded channels.
func (w *Whole) Light(r, g, b uint8) colour.LinearRGB {
	lr, lg, lb := w.light.at(r, g, b)
	return w.light.mixed([3]float64{lr, lg, lb})
}

// IsSRGB reports whether the codes are those of sRGB.
func (w *Whole) IsSRGB() bool {
	return w.light.matrix == nil && w.light.table == nil && w.light.curve == unprofiled().curve
}

// WholeOf is an sRGB image as a photograph.
func WholeOf(img image.Image) (*Whole, error) { return newWhole("", "", img, metadata{}) }
