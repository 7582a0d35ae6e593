package photo

import (
	"image"
	"image/color"
)

// rows reads an image line by line as 8-bit R, G, B and alpha, not
// premultiplied; y counts from 0 at the top.
func rows(img image.Image) func(y int, dst []uint8) {
	b := img.Bounds()
	switch img := img.(type) {
	case *image.NRGBA:
		return func(y int, dst []uint8) {
			copy(dst, img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):][:4*b.Dx()])
		}
	case *image.YCbCr:
		return func(y int, dst []uint8) {
			for x := range b.Dx() {
				i, j := img.YOffset(b.Min.X+x, b.Min.Y+y), img.COffset(b.Min.X+x, b.Min.Y+y)
				d := dst[4*x : 4*x+4]
				d[0], d[1], d[2] = color.YCbCrToRGB(img.Y[i], img.Cb[j], img.Cr[j])
				d[3] = 255
			}
		}
	}
	return func(y int, dst []uint8) {
		for x := range b.Dx() {
			c := color.NRGBAModel.Convert(img.At(b.Min.X+x, b.Min.Y+y)).(color.NRGBA)
			dst[4*x], dst[4*x+1], dst[4*x+2], dst[4*x+3] = c.R, c.G, c.B, c.A
		}
	}
}
