package main

import (
	"context"
	"io/fs"
	"strconv"

	"fewtubes/gamut/film"
)

// published holds what the tables of readings give, each on its own scale.
type published struct {
	acrylics map[string]*film.Paint // by Colour Index name; the catalogue's scale
	films    map[string]*film.Paint // by sample code; titanium white scatters 1
	oils     map[string]*film.Paint // by component name; per film
	patches  map[string]*film.Paint // by patch name; per film
}

func readPublished(ctx context.Context, files fs.FS) (*published, error) {
	p := &published{}
	var err error
	if p.acrylics, err = readAcrylics(files); err != nil {
		return nil, err
	}
	if p.films, _, err = readFilms(ctx, files); err != nil {
		return nil, err
	}
	if p.oils, _, err = readOils(ctx, files); err != nil {
		return nil, err
	}
	p.patches, err = readPatches(ctx, files)
	return p, err
}

// occurrence names the n-th series of one name: "name", "name#2", ...
func occurrence(name string, n int) string {
	if n == 1 {
		return name
	}
	return name + "#" + strconv.Itoa(n)
}
