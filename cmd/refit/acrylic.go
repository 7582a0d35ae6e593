package main

import (
	"io/fs"

	"fewtubes/gamut/film"
)

// readAcrylics reads the K and S of the acrylic paint database, by pigment.
// They are on the catalogue's own scale and surface.
func readAcrylics(files fs.FS) (map[string]*film.Paint, error) {
	lines, err := readTable(files, "berns2016_acrylic_ks.csv")
	if err != nil {
		return nil, err
	}
	paints := map[string]*film.Paint{}
	for _, l := range lines {
		s, _, err := l.spectrum()
		if err != nil {
			return nil, err
		}
		p := paints[l.fields["ci_name"]]
		if p == nil {
			p = &film.Paint{}
			paints[l.fields["ci_name"]] = p
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
