package sheet

import (
	"bytes"
	"fmt"
	"image"
	"image/png"

	"github.com/go-pdf/fpdf"
)

// picture prints an image within w by h millimetres, its proportions kept, and
// returns the size it takes.
func (p *press) picture(x, y, w, h float64, img image.Image) (width, height float64, err error) {
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return 0, 0, err
	}
	size := img.Bounds()
	scale := min(w/float64(size.Dx()), h/float64(size.Dy()))
	width, height = float64(scale*float64(size.Dx())), float64(scale*float64(size.Dy()))
	p.pictures++
	name := fmt.Sprintf("picture %d", p.pictures)
	options := fpdf.ImageOptions{ImageType: "PNG"}
	p.RegisterImageOptionsReader(name, options, &b)
	p.ImageOptions(name, x, y, width, height, false, options, 0, "")
	p.frame(x, y, width, height)
	return width, height, p.Error()
}
