package catalog

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"math"
	"path"
	"slices"
	"strconv"
	"strings"

	"fewtubes/gamut/film"
)

// DataError says what is wrong in a catalogue file, and where.
type DataError struct {
	File  string
	Line  int    // from 1; 0 when the whole file is meant
	Field string // column name; may be empty
	Err   error
}

func (e *DataError) Error() string {
	where := e.File
	if e.Line > 0 {
		where += ":" + strconv.Itoa(e.Line)
	}
	if e.Field != "" {
		where += ": " + e.Field
	}
	return where + ": " + e.Err.Error()
}

func (e *DataError) Unwrap() error { return e.Err }

// tubeColumns and filmColumns head the two files.
var (
	tubeColumns = []string{
		"id", "name", "pigments", "basis", "source", "hazards", "caution", "lightfastness",
		"opacity", "drying", "density_g_ml", "price_band", "price", "size_ml",
	}
	filmColumns = func() []string {
		columns := []string{"id", "quantity"}
		for i := range film.NodeCount {
			columns = append(columns, strconv.Itoa(film.NodeStartNM+i*film.NodeStepNM))
		}
		return columns
	}()
)

// Read reads tubes.csv and film.csv from a folder. Errors are *DataError.
// Lines that start with # are comments; lists within a field are separated by
// blanks.
func Read(files fs.FS, dir string) (*Catalogue, error) {
	nodes, err := readFilm(files, path.Join(dir, "film.csv"))
	if err != nil {
		return nil, err
	}
	file := path.Join(dir, "tubes.csv")
	rows, err := readRows(files, file, tubeColumns)
	if err != nil {
		return nil, err
	}
	var tubes []Tube
	lines := map[string]int{}
	for _, r := range rows {
		id := r.fields["id"]
		if first := lines[id]; first > 0 {
			return nil, r.wrong("id", "%s stands already in line %d", quoted(id), first)
		}
		n := nodes[id]
		if n == nil || n.K[0] == 0 || n.S[0] == 0 {
			return nil, r.wrong("id", "no K and S for %s in film.csv", quoted(id))
		}
		t, err := readTube(r, n)
		if err != nil {
			return nil, err
		}
		tubes, lines[id] = append(tubes, t), r.line
		delete(nodes, id)
	}
	if len(nodes) > 0 {
		first := slices.Min(slices.Collect(maps.Keys(nodes)))
		return nil, &DataError{File: file, Err: fmt.Errorf("film.csv has K and S for %s, which is not listed", quoted(first))}
	}
	c, err := New(tubes)
	if err != nil {
		return nil, &DataError{File: file, Err: err}
	}
	return c, nil
}

// quoted is what a refusal says of a field: printable, and not the whole of a
// long one.
func quoted(s string) string {
	const most = 60
	q := strconv.QuoteToASCII(s)
	if len(q) > most {
		return q[:most] + "...\""
	}
	return q
}

// row is one line of a file, by column name.
type row struct {
	file   string
	line   int
	fields map[string]string
}

func (r row) wrong(field, format string, args ...any) error {
	return &DataError{File: r.file, Line: r.line, Field: field, Err: fmt.Errorf(format, args...)}
}

func readRows(files fs.FS, file string, columns []string) ([]row, error) {
	f, err := files.Open(file)
	if err != nil {
		return nil, &DataError{File: file, Err: err}
	}
	defer f.Close()
	reader := csv.NewReader(f)
	reader.Comment = '#'
	var rows []row
	for head := true; ; head = false {
		record, err := reader.Read()
		switch {
		case err == io.EOF && !head:
			return rows, nil
		case head && (err != nil || !slices.Equal(record, columns)):
			return nil, &DataError{File: file, Line: 1, Err: fmt.Errorf("the columns must be %s", strings.Join(columns, ","))}
		case err != nil:
			return nil, parseError(file, err)
		case head:
			continue
		}
		r := row{file: file, fields: map[string]string{}}
		r.line, _ = reader.FieldPos(0)
		for j, name := range columns {
			r.fields[name] = record[j]
		}
		rows = append(rows, r)
	}
}

func parseError(file string, err error) error {
	var parse *csv.ParseError
	if errors.As(err, &parse) {
		return &DataError{File: file, Line: parse.Line, Err: parse.Err}
	}
	return &DataError{File: file, Err: err}
}

func readFilm(files fs.FS, file string) (map[string]*film.Nodes, error) {
	rows, err := readRows(files, file, filmColumns)
	if err != nil {
		return nil, err
	}
	nodes := map[string]*film.Nodes{}
	for _, r := range rows {
		id := r.fields["id"]
		if nodes[id] == nil {
			nodes[id] = &film.Nodes{}
		}
		var into *[film.NodeCount]float64
		switch r.fields["quantity"] {
		case "K":
			into = &nodes[id].K
		case "S":
			into = &nodes[id].S
		default:
			return nil, r.wrong("quantity", "%s is neither K nor S", quoted(r.fields["quantity"]))
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
	return nodes, nil
}

// positive reads a finite number above 0.
func (r row) positive(field string) (float64, error) {
	v, err := strconv.ParseFloat(r.fields[field], 64)
	if err != nil || !(v > 0) || math.IsInf(v, 0) {
		return 0, r.wrong(field, "%s is not a number above 0", quoted(r.fields[field]))
	}
	return v, nil
}

// whole reads a whole number from lo to hi.
func (r row) whole(field string, lo, hi int) (int, error) {
	v, err := strconv.Atoi(r.fields[field])
	if err != nil || v < lo || v > hi {
		return 0, r.wrong(field, "%s is not a whole number from %d to %d", quoted(r.fields[field]), lo, hi)
	}
	return v, nil
}

func readTube(r row, paint *film.Nodes) (t Tube, err error) {
	t = Tube{
		ID: r.fields["id"], Name: r.fields["name"], Basis: Basis(r.fields["basis"]), Source: r.fields["source"],
		Pigments: strings.Fields(r.fields["pigments"]), Hazards: strings.Fields(r.fields["hazards"]), Caution: r.fields["caution"],
		Lightfastness: r.fields["lightfastness"], Opacity: r.fields["opacity"], Drying: r.fields["drying"],
	}
	for _, field := range tubeColumns {
		if field != "hazards" && strings.TrimSpace(r.fields[field]) == "" {
			return t, r.wrong(field, "empty")
		}
	}
	slices.Sort(t.Hazards)
	if t.Density, err = r.positive("density_g_ml"); err != nil {
		return t, err
	}
	if t.SizeML, err = r.positive("size_ml"); err != nil {
		return t, err
	}
	if t.Band, err = r.whole("price_band", 1, 5); err != nil {
		return t, err
	}
	if t.Price, err = r.whole("price", 0, 1_000_000); err != nil {
		return t, err
	}
	t.Paint = film.FromNodes(paint)
	if field, err := t.Check(); err != nil {
		return t, r.wrong(field, "%w", err)
	}
	return t, nil
}
