package photo

import (
	"image"
	"image/color"
)

// gatherer sums the lines of an image into cells in linear light; y counts from
// 0 at the top. What JPEG and most HEIC files decode to takes a short way: it is
// the large part of making a photograph ready.
func gatherer(img image.Image, light *linearizer, across []share) func(y int, dst []cell) {
	if planes, ok := img.(*image.YCbCr); ok && light.table == nil {
		if shift, ok := chromaShift(planes); ok {
			return gatherPlanes(planes, shift, light, across)
		}
	}
	read, row := rows(img), make([]uint8, 4*len(across))
	return func(y int, dst []cell) {
		read(y, row)
		clear(dst)
		for x, s := range across {
			at := row[4*x : 4*x+4]
			cover := float64(at[3]) / 255
			r, g, b := light.at(at[0], at[1], at[2])
			for k, w := range s.weight {
				if w == 0 {
					continue
				}
				d, w := &dst[s.cell+k], float64(w*cover)
				d[0] += float64(w * r)
				d[1] += float64(w * g)
				d[2] += float64(w * b)
				d[3] += w
			}
		}
	}
}

// rows reads an image line by line as 8-bit R, G, B and alpha, not
// premultiplied.
func rows(img image.Image) func(y int, dst []uint8) {
	b := img.Bounds()
	if img, ok := img.(*image.NRGBA); ok {
		return func(y int, dst []uint8) {
			copy(dst, img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):][:4*b.Dx()])
		}
	}
	if img, ok := img.(*image.YCbCr); ok {
		return func(y int, dst []uint8) {
			for x := range b.Dx() {
				i, j := img.YOffset(b.Min.X+x, b.Min.Y+y), img.COffset(b.Min.X+x, b.Min.Y+y)
				dst[4*x], dst[4*x+1], dst[4*x+2] = color.YCbCrToRGB(img.Y[i], img.Cb[j], img.Cr[j])
				dst[4*x+3] = 255
			}
		}
	}
	if img, ok := img.(image.RGBA64Image); ok { // without an allocation for each pixel
		return func(y int, dst []uint8) {
			for x := range b.Dx() {
				c := img.RGBA64At(b.Min.X+x, b.Min.Y+y)
				if c.A != 0 && c.A != 0xffff {
					straight := func(v uint16) uint16 { return uint16(uint32(v) * 0xffff / uint32(c.A)) }
					c.R, c.G, c.B = straight(c.R), straight(c.G), straight(c.B)
				}
				dst[4*x], dst[4*x+1], dst[4*x+2], dst[4*x+3] = uint8(c.R>>8), uint8(c.G>>8), uint8(c.B>>8), uint8(c.A>>8)
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
