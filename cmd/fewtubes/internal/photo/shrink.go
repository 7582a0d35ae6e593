package photo

import (
	"image"

	"fewtubes/gamut/colour"
)

// newPicture averages an image in linear light down to the longest side and
// turns it upright.
func newPicture(name string, img image.Image, m metadata, longest int) (*Picture, error) {
	img, light := linearize(img, &m)
	b := img.Bounds()
	p := &Picture{FullW: b.Dx(), FullH: b.Dy(), Notes: m.notes}
	if err := checkSize(name, p.FullW, p.FullH); err != nil {
		return nil, err
	}
	p.W, p.H = fit(p.FullW, p.FullH, longest)
	if !p.average(img, light) {
		return nil, &Error{File: name, Msg: "the picture is transparent all over"}
	}
	p.turn(m.orientation)
	return p, nil
}

// fit keeps the proportions and never enlarges.
func fit(w, h, longest int) (int, int) {
	long := max(w, h)
	if longest <= 0 || long <= longest {
		return w, h
	}
	scale := func(v int) int { return max(1, (v*longest+long/2)/long) }
	return scale(w), scale(h)
}

// average spreads every pixel of the image over the one or two columns and rows
// it falls on. It reports whether any of it is opaque.
func (p *Picture) average(img image.Image, light linearizer) bool {
	read := rows(img)
	row := make([]uint8, 4*p.FullW)
	sum := make([][4]float64, p.W*p.H) // light times cover, cover
	across, down := spread(p.FullW, p.W), spread(p.FullH, p.H)
	for y := range p.FullH {
		read(y, row)
		for k, wy := range down[y].weight {
			if wy == 0 {
				continue
			}
			line := sum[(down[y].cell+k)*p.W:]
			for x := range p.FullW {
				at := row[4*x : 4*x+4]
				cover := wy * float64(at[3]) / 255
				r, g, b := light.curve[0][at[0]], light.curve[1][at[1]], light.curve[2][at[2]]
				for j, wx := range across[x].weight {
					if wx == 0 {
						continue
					}
					s, w := &line[across[x].cell+j], wx*cover
					s[0] += w * r
					s[1] += w * g
					s[2] += w * b
					s[3] += w
				}
			}
		}
	}
	return p.settle(sum, light)
}

// settle divides the sums by their cover.
func (p *Picture) settle(sum [][4]float64, light linearizer) (any bool) {
	full := float64(p.FullW) / float64(p.W) * float64(p.FullH) / float64(p.H)
	p.Pix = make([]colour.LinearRGB, len(sum))
	cover := make([]float64, len(sum))
	opaque := true
	for i, s := range sum {
		cover[i] = min(s[3]/full, 1)
		opaque = opaque && cover[i] > 1-1e-9
		if s[3] > 0 {
			any = true
			p.Pix[i] = light.mixed([3]float64{s[0] / s[3], s[1] / s[3], s[2] / s[3]})
		}
	}
	if !opaque {
		p.Cover = cover
	}
	return any
}

// share is where a source pixel falls: partly on cell, partly on the next.
type share struct {
	cell   int
	weight [2]float64
}

// spread lays n source pixels over m <= n cells, in source pixels.
func spread(n, m int) []share {
	out := make([]share, n)
	for i := range out {
		from, to := i*m, (i+1)*m // in units of 1/n cell
		cell := from / n
		edge := (cell + 1) * n
		if to <= edge {
			out[i] = share{cell, [2]float64{1, 0}}
		} else {
			out[i] = share{cell, [2]float64{float64(edge-from) / float64(m), float64(to-edge) / float64(m)}}
		}
	}
	return out
}
