package photo

import "fewtubes/gamut/colour"

// turn makes the picture upright by its EXIF orientation (CIPA DC-008, tag
// 0x0112): the value says at which side the first row and column were taken.
func (p *Picture) turn(orientation int) {
	if orientation < 2 || orientation > 8 {
		return
	}
	w, h := p.W, p.H
	if orientation >= 5 { // rows and columns change places
		p.W, p.H = h, w
		p.FullW, p.FullH = p.FullH, p.FullW
	}
	from := upright(orientation, w, h)
	pix, cover := p.Pix, p.Cover
	p.Pix = make([]colour.LinearRGB, len(pix))
	if cover != nil {
		p.Cover = make([]float64, len(cover))
	}
	for y := range p.H {
		for x := range p.W {
			fx, fy := from(x, y)
			p.Pix[y*p.W+x] = pix[fy*w+fx]
			if cover != nil {
				p.Cover[y*p.W+x] = cover[fy*w+fx]
			}
		}
	}
}

// upright tells where a place in an upright picture stands in its file of w by h
// pixels.
func upright(orientation, w, h int) func(x, y int) (int, int) {
	return func(x, y int) (int, int) {
		switch orientation {
		case 2:
			return w - 1 - x, y
		case 3:
			return w - 1 - x, h - 1 - y
		case 4:
			return x, h - 1 - y
		case 5:
			return y, x
		case 6:
			return y, h - 1 - x
		case 7:
			return w - 1 - y, h - 1 - x
		case 8:
			return w - 1 - y, x
		}
		return x, y
	}
}
