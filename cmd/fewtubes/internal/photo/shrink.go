package photo

import (
	"image"
	"runtime"
	"sync"

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
		return nil, &Error{File: name, Msg: "the picture is transparent all over", Remedy: "lay it on a background in an image editor"}
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
	sum := make([][4]float64, p.W*p.H) // light times cover, cover
	across, down := spread(p.FullW, p.W), spread(p.FullH, p.H)
	var all sync.WaitGroup
	for bands, n := min(runtime.GOMAXPROCS(0), p.H), 0; n < bands; n++ {
		from, to := n*p.H/bands, (n+1)*p.H/bands
		all.Go(func() { p.averageRows(rows(img), light, across, down, sum, from, to) })
	}
	all.Wait()
	return p.settle(sum, light)
}

// averageRows fills the rows from..to of the small picture, each in the order
// of the rows of the large one, so that the sums are the same for any bands.
func (p *Picture) averageRows(read func(y int, dst []uint8), light linearizer, across, down []share, sum [][4]float64, from, to int) {
	row := make([]uint8, 4*p.FullW)
	for y := range p.FullH {
		if down[y].cell+1 < from || down[y].cell >= to {
			continue
		}
		read(y, row)
		for k, wy := range down[y].weight {
			if cell := down[y].cell + k; wy == 0 || cell < from || cell >= to {
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
