package photo

import (
	"image"
	"image/color"
)

// luma are the weights Kr and Kb of a luma matrix (ITU-T H.273 table 4).
type luma struct{ kr, kb float64 }

var bt601 = luma{0.299, 0.114}

// lumaOf finds the weights of a matrix code; unspecified (2) is BT.601, as in
// JPEG.
func lumaOf(matrix uint16) (l luma, known bool) {
	switch matrix {
	case 1: // BT.709
		return luma{0.2126, 0.0722}, true
	case 2, 5, 6:
		return bt601, true
	case 9: // BT.2020
		return luma{0.2627, 0.0593}, true
	}
	return bt601, false
}

// fromVideo undoes a luma coding that is not JPEG's; other images, and JPEG's
// own coding (BT.601, full range), come back as they are.
func fromVideo(img image.Image, l luma, fullRange bool) image.Image {
	planes, ok := img.(*image.YCbCr)
	var alpha *image.NYCbCrA
	if !ok {
		if alpha, ok = img.(*image.NYCbCrA); ok {
			planes = &alpha.YCbCr
		}
	}
	if !ok || l == bt601 && fullRange {
		return img
	}
	b := planes.Bounds()
	out := image.NewNRGBA(b)
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			i, j := planes.YOffset(x, y), planes.COffset(x, y)
			c := l.rgb(planes.Y[i], planes.Cb[j], planes.Cr[j], fullRange)
			if alpha != nil {
				c.A = alpha.A[alpha.AOffset(x, y)]
			}
			out.SetNRGBA(x, y, c)
		}
	}
	return out
}

// rgb decodes one pixel (ITU-R BT.601-7 section 2.5, and alike for BT.709).
func (l luma) rgb(y, cb, cr uint8, fullRange bool) color.NRGBA {
	v, b, r := float64(y)/255, (float64(cb)-128)/255, (float64(cr)-128)/255
	if !fullRange {
		v, b, r = (float64(y)-16)/219, (float64(cb)-128)/224, (float64(cr)-128)/224
	}
	red, blue := v+float64(2*(1-l.kr)*r), v+float64(2*(1-l.kb)*b)
	green := (v - float64(l.kr*red) - float64(l.kb*blue)) / (1 - l.kr - l.kb)
	return color.NRGBA{R: code(red), G: code(green), B: code(blue), A: 255}
}

// code rounds 0..1 to 8 bits.
func code(v float64) uint8 { return uint8(float64(min(max(v, 0), 1)*255) + 0.5) }
