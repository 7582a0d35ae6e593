package main

import (
	"io/fs"

	"fewtubes/gamut/film"
)

// readAcrylics reads a table of K and S of acrylic paints, S of titanium white
// being 1 in every band; key is the column that names a paint.
func readAcrylics(files fs.FS, file, key string) (map[string]*film.Paint, error) {
	lines, err := readTable(files, file)
	if err != nil {
		return nil, err
	}
	paints := map[string]*film.Paint{}
	for _, l := range lines {
		s, _, err := l.spectrum()
		if err != nil {
			return nil, err
		}
		p := paints[l.fields[key]]
		if p == nil {
			p = &film.Paint{}
			paints[l.fields[key]] = p
		}
		into, floor := &p.K, film.FloorK
		if l.fields["quantity"] == "S" {
			into, floor = &p.S, film.FloorS
		}
		for b, v := range s {
			into[b] = max(v, floor)
		}
	}
	return paints, nil
}
