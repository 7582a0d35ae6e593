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

// tubeColumns head tubes.csv.
var tubeColumns = []string{
	"id", "name", "pigments", "basis", "parts", "source", "hazards", "caution", "lightfastness",
	"opacity", "drying", "density_g_ml", "price_band", "price", "size_ml",
}

// Read reads tubes.csv, film.csv and surface.csv from a folder. Errors are
// *DataError. Lines that start with # are comments; lists within a field are
// separated by blanks.
func Read(files fs.FS, dir string) (*Catalogue, error) {
	films, err := readFilm(files, path.Join(dir, "film.csv"))
	if err != nil {
		return nil, err
	}
	surface, err := readSurface(files, path.Join(dir, "surface.csv"))
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
		t, err := readTube(r, films.nodes[id])
		if err != nil {
			return nil, err
		}
		tubes, lines[id] = append(tubes, t), r.line
		delete(films.nodes, id)
	}
	if len(films.nodes) > 0 {
		first := slices.Min(slices.Collect(maps.Keys(films.nodes)))
		return nil, &DataError{File: file, Err: fmt.Errorf("film.csv has K and S for %s, which is not listed", quoted(first))}
	}
	if err := mixParts(rows, tubes); err != nil {
		return nil, err
	}
	c, err := New(tubes)
	if err != nil {
		return nil, &DataError{File: file, Err: err}
	}
	c.scale = film.Scale{Surface: surface, WhiteMM: films.whiteMM}
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

// mixParts mixes the tubes that are mixtures of others.
func mixParts(rows []row, tubes []Tube) error {
	own := map[string]*Tube{} // those with K and S of their own
	for i, r := range rows {
		if r.fields["parts"] == "" {
			own[tubes[i].ID] = &tubes[i]
		}
	}
	for i, r := range rows {
		if r.fields["parts"] == "" {
			continue
		}
		var of []*Tube
		var amounts []float64
		for part := range strings.FieldsSeq(r.fields["parts"]) {
			id, text, _ := strings.Cut(part, ":")
			amount, err := strconv.ParseFloat(text, 64)
			if err != nil || !(amount > 0 && amount <= 1e6) {
				return r.wrong("parts", "%s is not a tube and its parts, such as zinc-white:2", quoted(part))
			}
			t := own[id]
			if t == nil {
				return r.wrong("parts", "%s is no tube with K and S of its own", quoted(id))
			}
			of, amounts = append(of, t), append(amounts, amount)
		}
		tubes[i].MixOf(of, amounts)
		if field, err := tubes[i].checkPaint(); err != nil {
			return r.wrong(field, "%w", err)
		}
	}
	return nil
}

// positive reads a finite number above 0.
func (r row) positive(field string) (float64, error) {
	v, err := strconv.ParseFloat(r.fields[field], 64)
	if err != nil || !(v > 0) || math.IsInf(v, 0) {
		return 0, r.wrong(field, "%s is not a number above 0", quoted(r.fields[field]))
	}
	return v, nil
}

// share reads a number from 0 up to, but not including, 1.
func (r row) share(field string) (float64, error) {
	v, err := strconv.ParseFloat(r.fields[field], 64)
	if err != nil || !(v >= 0 && v < 1) {
		return 0, r.wrong(field, "%s is not a number from 0 to 1", quoted(r.fields[field]))
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

// unmixed stands for the paint of a mixture until its parts are known.
var unmixed = func() (p film.Paint) {
	for b := range p.K {
		p.K[b], p.S[b] = 1, 1
	}
	return p
}()

func readTube(r row, paint *film.Nodes) (t Tube, err error) {
	t = Tube{
		ID: r.fields["id"], Name: r.fields["name"], Basis: Basis(r.fields["basis"]), Source: r.fields["source"],
		Pigments: strings.Fields(r.fields["pigments"]), Hazards: strings.Fields(r.fields["hazards"]), Caution: r.fields["caution"],
		Doubt: Basis(r.fields["basis"]).Doubt(), Lightfastness: r.fields["lightfastness"], Opacity: r.fields["opacity"], Drying: r.fields["drying"],
	}
	for _, field := range tubeColumns {
		if field != "hazards" && field != "parts" && strings.TrimSpace(r.fields[field]) == "" {
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
	mixture := r.fields["parts"] != ""
	switch {
	case paint != nil && mixture:
		return t, r.wrong("parts", "%s has K and S of its own in film.csv", quoted(t.ID))
	case !mixture && (paint == nil || paint.K[0] == 0 || paint.S[0] == 0):
		return t, r.wrong("id", "no K and S for %s in film.csv", quoted(t.ID))
	case mixture:
		t.Paint = unmixed
	default:
		t.Paint = film.FromNodes(paint)
	}
	if field, err := t.Check(); err != nil {
		return t, r.wrong(field, "%w", err)
	}
	return t, nil
}
