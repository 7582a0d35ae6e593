package catalog

import (
	"errors"
	"fmt"
	"io/fs"
	"strconv"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// filmColumns head film.csv.
var filmColumns = func() []string {
	columns := []string{"id", "quantity"}
	for i := range film.NodeCount {
		columns = append(columns, strconv.Itoa(film.NodeStartNM+i*film.NodeStepNM))
	}
	return columns
}()

// films is what film.csv holds.
type films struct {
	nodes   map[string]*film.Nodes
	whiteMM [colour.Bands]float64
}

func readFilm(files fs.FS, file string) (*films, error) {
	rows, err := readRows(files, file, filmColumns)
	if err != nil {
		return nil, err
	}
	out := &films{nodes: map[string]*film.Nodes{}}
	white := film.Nodes{}
	for _, r := range rows {
		id := r.fields["id"]
		n := out.nodes[id]
		if n == nil {
			n = &film.Nodes{}
		}
		var into *[film.NodeCount]float64
		switch r.fields["quantity"] {
		case "K":
			into = &n.K
		case "S":
			into = &n.S
		case "S_per_mm":
			into = &white.S
		default:
			return nil, r.wrong("quantity", "%s is none of K, S and S_per_mm", quoted(r.fields["quantity"]))
		}
		if into != &white.S {
			out.nodes[id] = n
		}
		if into[0] != 0 {
			return nil, r.wrong("quantity", "%s of %s stands twice", r.fields["quantity"], quoted(id))
		}
		for i, name := range filmColumns[2:] {
			if into[i], err = r.positive(name); err != nil {
				return nil, err
			}
		}
	}
	if white.S[0] == 0 {
		return nil, &DataError{File: file, Err: errors.New("no S_per_mm says what a tube that scatters 1 scatters in a millimetre")}
	}
	white.K = white.S
	out.whiteMM = film.FromNodes(&white).S
	return out, nil
}

var surfaceColumns = []string{"k1", "k2"}

func readSurface(files fs.FS, file string) (s film.Surface, err error) {
	rows, err := readRows(files, file, surfaceColumns)
	if err != nil {
		return s, err
	}
	if len(rows) != 1 {
		return s, &DataError{File: file, Err: fmt.Errorf("%d surfaces where there must be one", len(rows))}
	}
	if s.K1, err = rows[0].share("k1"); err != nil {
		return s, err
	}
	s.K2, err = rows[0].share("k2")
	return s, err
}
