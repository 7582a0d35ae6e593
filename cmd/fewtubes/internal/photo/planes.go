package photo

import "image"

// chromaShift is the power of two that columns of luma share a column of colour
// difference by; not known for pictures cut out of others.
func chromaShift(img *image.YCbCr) (shift uint, ok bool) {
	if img.Rect.Min != (image.Point{}) {
		return 0, false
	}
	switch img.SubsampleRatio {
	case image.YCbCrSubsampleRatio444, image.YCbCrSubsampleRatio440:
		return 0, true
	case image.YCbCrSubsampleRatio422, image.YCbCrSubsampleRatio420:
		return 1, true
	case image.YCbCrSubsampleRatio411, image.YCbCrSubsampleRatio410:
		return 2, true
	}
	return 0, false
}

// beyond is how far outside 0..255 luma and colour difference lead at most:
// 128 times 1.772, the weight of Cb in blue.
const beyond = 227

// wideCurve is a curve of 256 steps with its ends drawn out, so that codes
// need no clamping.
type wideCurve [1024]float64

func widened(curve *[256]float64) *wideCurve {
	out := new(wideCurve)
	for i := range out {
		out[i] = curve[min(max(i-beyond, 0), 255)]
	}
	return out
}

// gatherPlanes is gatherer for luma and colour difference as JPEG codes them,
// rounded as color.YCbCrToRGB rounds them.
func gatherPlanes(img *image.YCbCr, shift uint, light *linearizer, across []share) func(y int, dst []cell) {
	red, green, blue := widened(light.curve[0]), widened(light.curve[1]), widened(light.curve[2])
	return func(y int, dst []cell) {
		luma := img.Y[img.YOffset(0, y):][:len(across)]
		width := (len(across)-1)>>shift + 1
		cbs, crs := img.Cb[img.COffset(0, y):][:width], img.Cr[img.COffset(0, y):][:width]
		clear(dst)
		at, sum := 0, cell{}
		for x := range luma {
			s := &across[x]
			if s.cell != at {
				dst[at] = sum
				at, sum = s.cell, cell{}
			}
			v := int32(luma[x])*0x10101 + beyond<<16
			cb, cr := int32(cbs[x>>shift])-128, int32(crs[x>>shift])-128
			r := red[(v+91881*cr)>>16&1023]
			g := green[(v-22554*cb-46802*cr)>>16&1023]
			b := blue[(v+116130*cb)>>16&1023]
			w := s.weight[0]
			sum[0] += float64(w * r)
			sum[1] += float64(w * g)
			sum[2] += float64(w * b)
			sum[3] += w
			if w = s.weight[1]; w > 0 {
				dst[at] = sum
				at, sum = at+1, cell{w * r, w * g, w * b, w}
			}
		}
		dst[at] = sum
	}
}
