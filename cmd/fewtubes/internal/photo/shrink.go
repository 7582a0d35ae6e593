package photo

import (
	"context"
	"image"
	"runtime"
	"sort"
	"sync"

	"fewtubes/gamut/colour"
)

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
func (p *Picture) average(ctx context.Context, img image.Image, light linearizer) bool {
	p.Pix, p.Cover = make([]colour.LinearRGB, p.W*p.H), make([]float64, p.W*p.H)
	across, down := spread(p.FullW, p.W), spread(p.FullH, p.H)
	bands := min(runtime.GOMAXPROCS(0), p.H)
	seen := make([]coverage, bands)
	var all sync.WaitGroup
	for n := range bands {
		all.Go(func() {
			gather := gatherer(img, &light, across)
			seen[n] = p.averageRows(ctx, gather, light, down, n*p.H/bands, (n+1)*p.H/bands)
		})
	}
	all.Wait()
	whole := coverage{opaque: true}
	for _, c := range seen {
		whole = coverage{any: whole.any || c.any, opaque: whole.opaque && c.opaque}
	}
	if whole.opaque {
		p.Cover = nil
	}
	return whole.any
}

// coverage says whether some, and whether all, of a picture is opaque.
type coverage struct{ any, opaque bool }

// cell is light times cover, and cover, summed over source pixels.
type cell [4]float64

// averageRows fills the rows from..to of the small picture, each in the order
// of the rows of the large one, so that the sums are the same for any bands.
func (p *Picture) averageRows(ctx context.Context, gather func(y int, dst []cell), light linearizer, down []share, from, to int) coverage {
	whole := coverage{opaque: true}
	line, here, next := make([]cell, p.W), make([]cell, p.W), make([]cell, p.W)
	settle := func(row int) {
		if row >= from {
			c := p.settle(row, here, light)
			whole = coverage{any: whole.any || c.any, opaque: whole.opaque && c.opaque}
		}
		here, next = next, here
		clear(next)
	}
	first := sort.Search(len(down), func(y int) bool { return down[y].cell+1 >= from })
	row := down[first].cell
	for y := first; y < len(down) && down[y].cell < to && ctx.Err() == nil; y++ {
		for ; row < down[y].cell; row++ {
			settle(row)
		}
		gather(y, line)
		add(here, line, down[y].weight[0])
		if down[y].weight[1] > 0 {
			add(next, line, down[y].weight[1])
		}
	}
	for ; row < to; row++ {
		settle(row)
	}
	return whole
}

func add(dst, line []cell, weight float64) {
	for x := range line {
		s, d := &line[x], &dst[x]
		d[0] += float64(weight * s[0])
		d[1] += float64(weight * s[1])
		d[2] += float64(weight * s[2])
		d[3] += float64(weight * s[3])
	}
}

// settle divides the sums of a row by their cover.
func (p *Picture) settle(row int, sum []cell, light linearizer) coverage {
	full := float64(p.FullW) / float64(p.W) * float64(p.FullH) / float64(p.H)
	whole := coverage{opaque: true}
	for x, s := range sum {
		i := row*p.W + x
		p.Cover[i] = min(s[3]/full, 1)
		whole.opaque = whole.opaque && p.Cover[i] > 1-1e-9
		if s[3] > 0 {
			whole.any = true
			p.Pix[i] = light.mixed([3]float64{s[0] / s[3], s[1] / s[3], s[2] / s[3]})
		}
	}
	return whole
}

// Averaged is the picture averaged down further in the same way; longest as of Open.
func (p *Picture) Averaged(longest int) *Picture {
	out := &Picture{Format: p.Format, FullW: p.FullW, FullH: p.FullH, Notes: p.Notes}
	if out.W, out.H = fit(p.W, p.H, longest); out.W == p.W && out.H == p.H {
		return p
	}
	sums := make([]cell, out.W*out.H)
	across := spread(p.W, out.W)
	for y, down := range spread(p.H, out.H) {
		for x, s := range across {
			i := y*p.W + x
			for k, w := range [4]float64{down.weight[0] * s.weight[0], down.weight[0] * s.weight[1], down.weight[1] * s.weight[0], down.weight[1] * s.weight[1]} {
				if w == 0 {
					continue
				}
				w = float64(w * p.CoverAt(i))
				sum := &sums[(down.cell+k/2)*out.W+s.cell+k%2]
				sum[0] += float64(w * p.Pix[i].R)
				sum[1] += float64(w * p.Pix[i].G)
				sum[2] += float64(w * p.Pix[i].B)
				sum[3] += w
			}
		}
	}
	full := float64(p.W) / float64(out.W) * float64(p.H) / float64(out.H)
	out.Pix = make([]colour.LinearRGB, len(sums))
	if p.Cover != nil {
		out.Cover = make([]float64, len(sums))
	}
	for i, s := range sums {
		if s[3] > 0 {
			out.Pix[i] = colour.LinearRGB{R: s[0] / s[3], G: s[1] / s[3], B: s[2] / s[3]}
		}
		if p.Cover != nil {
			out.Cover[i] = min(s[3]/full, 1)
		}
	}
	return out
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
