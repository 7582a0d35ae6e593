package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"io/fs"
	"strconv"

	"fewtubes/gamut/colour"
)

// line is one line of a table by column name.
type line struct {
	file   string
	number int
	fields map[string]string
}

func readTable(files fs.FS, file string) ([]line, error) {
	f, err := files.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return parseTable(f, file)
}

func parseTable(r io.Reader, file string) ([]line, error) {
	reader := csv.NewReader(r)
	reader.Comment = '#'
	head, err := reader.Read()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	var lines []line
	for {
		record, err := reader.Read()
		if err == io.EOF {
			return lines, nil
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", file, err)
		}
		l := line{file: file, fields: map[string]string{}}
		l.number, _ = reader.FieldPos(0)
		for i, name := range head {
			l.fields[name] = record[i]
		}
		lines = append(lines, l)
	}
}

// spectrum reads the bands the line has; a blank field counts as missing.
func (l line) spectrum() (s colour.Spectrum, have [colour.Bands]bool, err error) {
	for b := range s {
		nm := strconv.Itoa(colour.StartNM + b*colour.StepNM)
		if l.fields[nm] == "" {
			continue
		}
		if s[b], err = l.value(nm); err != nil {
			return s, have, err
		}
		have[b] = true
	}
	return s, have, nil
}

func (l line) value(field string) (float64, error) {
	v, err := strconv.ParseFloat(l.fields[field], 64)
	if err != nil {
		return 0, fmt.Errorf("%s:%d: %s: %q is not a number", l.file, l.number, field, l.fields[field])
	}
	return v, nil
}
