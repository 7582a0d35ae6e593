package readings

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// columns maps the fields of a table to what they hold.
type columns struct {
	name, recipe, backing, thickness, film int // -1: not there
	colour, seenBy, noise                  int
	lab                                    [3]int
	waves                                  []int
	wavelengths                            []float64
	names                                  []string
}

// findColumns reads the header of a table; msg is empty where it serves.
func findColumns(header []string) (c columns, msg string) {
	c = columns{name: -1, recipe: -1, backing: -1, thickness: -1, film: -1, colour: -1, seenBy: -1, noise: -1, lab: [3]int{-1, -1, -1}, names: header}
	if len(header) > maxFields {
		return c, fmt.Sprintf("there are more than %d columns", maxFields)
	}
	known := map[string]*int{
		"sample": &c.name, "name": &c.name, "sample_name": &c.name,
		"recipe": &c.recipe, "backing": &c.backing, "thickness": &c.thickness, "film": &c.film,
		"colour": &c.colour, "color": &c.colour, "seen by": &c.seenBy, "seen_by": &c.seenBy, "noise": &c.noise,
		"l": &c.lab[0], "a": &c.lab[1], "b": &c.lab[2], "l*": &c.lab[0], "a*": &c.lab[1], "b*": &c.lab[2],
	}
	id := -1
	for i, h := range header {
		h = strings.ToLower(strings.TrimSpace(h))
		if w, ok := wavelength(h); ok {
			c.waves, c.wavelengths = append(c.waves, i), append(c.wavelengths, w)
		} else if at := known[h]; at != nil {
			*at = i
		} else if h == "sample_id" {
			id = i
		}
	}
	if c.name < 0 {
		c.name = id
	}
	if c.name < 0 && c.recipe < 0 {
		return c, "no column is called sample or recipe"
	}
	if len(c.wavelengths) == 0 && c.colours() {
		return c, ""
	}
	return c, checkWavelengths(c.wavelengths)
}

// colours reports whether samples may be read as colours.
func (c *columns) colours() bool {
	return c.colour >= 0 || c.lab[0] >= 0 && c.lab[1] >= 0 && c.lab[2] >= 0
}

// take reads one row of the table.
func (c *columns) take(set *Set, line int, row []string) (r raw, err error) {
	field := func(i int) string {
		if i < 0 || i >= len(row) {
			return ""
		}
		return strings.TrimSpace(row[i])
	}
	r = raw{
		line: line, name: field(c.name), recipe: field(c.recipe), backing: field(c.backing),
		thickness: field(c.thickness), film: field(c.film), wavelengths: c.wavelengths,
		colour: field(c.colour), seenBy: field(c.seenBy), noise: field(c.noise), lab: [3]string{field(c.lab[0]), field(c.lab[1]), field(c.lab[2])},
	}
	if c.colours() && !slices.ContainsFunc(c.waves, func(i int) bool { return field(i) != "" }) {
		return r, nil
	}
	r.colour, r.lab = "", [3]string{}
	for _, i := range c.waves {
		if field(i) == "" {
			return r, set.wrong(line, "column "+clip(c.names[i]), "the value is missing", "write a reflectance such as 0.43")
		}
		v, err := parseValue(field(i))
		if err != nil {
			return r, set.wrong(line, "column "+clip(c.names[i]), fmt.Sprintf("%q is not a number", clip(field(i))), "write a reflectance such as 0.43")
		}
		r.values = append(r.values, v)
	}
	return r, nil
}

// readCSV reads comma, semicolon or tab separated text with a header row, before
// which a line such as sep=; may name what separates. Lines that begin with # are
// left out.
func readCSV(set *Set, data []byte) ([]raw, error) {
	r := csv.NewReader(bytes.NewReader(data))
	r.Comment, r.FieldsPerRecord, r.ReuseRecord = '#', -1, false
	comma, declared := separator(data)
	r.Comma = comma
	r.LazyQuotes = false
	header, err := r.Read()
	if declared && err == nil {
		header, err = r.Read()
	}
	if err != nil {
		return nil, csvTrouble(set, err)
	}
	line, _ := r.FieldPos(0)
	c, msg := findColumns(header)
	if msg != "" {
		return nil, set.wrong(line, "header", msg, "name columns sample and wavelengths such as 400,410,...,700, or sample and L,a,b, or sample and colour")
	}
	var out []raw
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		if err != nil {
			return nil, csvTrouble(set, err)
		}
		line, _ := r.FieldPos(0)
		if strings.TrimSpace(strings.Join(row, "")) == "" {
			continue
		}
		if len(row) != len(header) {
			return nil, set.wrong(line, "", fmt.Sprintf("%d fields where the header has %d", len(row), len(header)), "give every column a value, or nothing between its commas")
		}
		one, err := c.take(set, line, row)
		if err != nil {
			return nil, err
		}
		if out = append(out, one); len(out) > maxSamples {
			return nil, set.wrong(line, "", fmt.Sprintf("more than %d samples", maxSamples), "split the file")
		}
	}
}

// separator is what parts the header: what a line above it declares, as
// spreadsheets write (common practice, no source), else tab, semicolon or comma.
func separator(data []byte) (comma rune, declared bool) {
	for line := range bytes.Lines(data) {
		if line = bytes.TrimRight(line, "\r\n"); len(bytes.TrimSpace(line)) == 0 || line[0] == '#' {
			continue
		}
		if named, ok := bytes.CutPrefix(bytes.ToLower(bytes.Trim(line, `"`)), []byte("sep=")); ok && len(named) == 1 && bytes.ContainsAny(named, ",;\t|:") {
			return rune(named[0]), true
		}
		for _, c := range "\t;" {
			if bytes.ContainsRune(bytes.TrimSpace(line), c) {
				return c, false
			}
		}
		break
	}
	return ',', false
}

func csvTrouble(set *Set, err error) error {
	var p *csv.ParseError
	if errors.As(err, &p) {
		return set.wrong(p.Line, fmt.Sprintf("character %d", p.Column), "the quotation marks do not fit together", `put fields that hold commas or quotes in "quotes"`)
	}
	return set.wrong(0, "", "the file is empty", "export the readings with a header row")
}
