package patches

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"fewtubes/cmd/fewtubes/internal/infile"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/colour"
)

// Error is a mistake in a file of marks, or in a photograph, that its maker can mend.
type Error = scene.Error

// Mark is one patch of a photograph.
type Mark struct {
	Line                     int
	Name                     string
	Left, Top, Width, Height float64     // shares of the picture, 0..1
	Known                    *colour.Lab // D65; nil: a swatch to read
}

const (
	largestMarks = 1 << 20 // bytes
	mostMarks    = 500
)

const remedyHeader = "name columns sample, left, top, width, height and colour"

// ReadMarks reads a file of marks. Errors are *Error, or an *fs.PathError.
func ReadMarks(path string) ([]Mark, error) {
	data, err := infile.Read(path, largestMarks)
	if err != nil {
		return nil, err
	}
	return ParseMarks(path, data)
}

// ParseMarks is ReadMarks of a text; name stands in errors.
func ParseMarks(name string, data []byte) ([]Mark, error) {
	wrong := func(line int, field, msg, remedy string) error {
		return &Error{File: name, Line: line, Field: field, Msg: msg, Remedy: remedy}
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if len(data) > largestMarks || !utf8.Valid(data) || bytes.IndexByte(data, 0) >= 0 {
		return nil, wrong(0, "", "it is no CSV text of marks", "write where each patch lies, in a table with a header")
	}
	r := csv.NewReader(bytes.NewReader(data))
	r.Comment, r.TrimLeadingSpace = '#', true
	at := map[string]int{}
	var marks []Mark
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			return nil, wrong(bad.Line, "", "its commas or quotation marks do not fit together", "give every row as many fields as the header, and quote those that hold commas")
		}
		if err != nil {
			return nil, err
		}
		line, _ := r.FieldPos(0)
		if len(at) == 0 {
			for i, field := range row {
				at[strings.ToLower(strings.TrimSpace(field))] = i
			}
			for _, column := range []string{"sample", "left", "top", "width", "height", "colour"} {
				if _, ok := at[column]; !ok {
					return nil, wrong(line, "header", "no column is called "+column, remedyHeader)
				}
			}
			continue
		}
		m := Mark{Line: line, Name: strings.TrimSpace(row[at["sample"]])}
		field := fmt.Sprintf("sample %q", plain.Short(m.Name))
		if m.Name == "" {
			return nil, wrong(line, "sample", "the patch has no name", "write what is in it, such as 1 ultramarine-blue + 4 titanium-white")
		}
		for column, v := range map[string]*float64{"left": &m.Left, "top": &m.Top, "width": &m.Width, "height": &m.Height} {
			if *v, err = strconv.ParseFloat(strings.TrimSpace(row[at[column]]), 64); err != nil || !(*v >= 0 && *v <= 1) {
				return nil, wrong(line, field, "its place is not in shares of the picture, 0 to 1", "write left, top, width and height such as 0.30, 0.10, 0.08 and 0.20")
			}
		}
		if !(m.Width > 0 && m.Height > 0 && m.Left+m.Width <= 1 && m.Top+m.Height <= 1) {
			return nil, wrong(line, field, "it reaches out of the picture, or has no size", "write left, top, width and height such as 0.30, 0.10, 0.08 and 0.20")
		}
		if text := strings.TrimSpace(row[at["colour"]]); text != "" {
			lab, err := colour.Parse(text)
			if err != nil {
				return nil, wrong(line, field, err.Error(), "")
			}
			m.Known = &lab
		}
		if marks = append(marks, m); len(marks) > mostMarks {
			return nil, wrong(line, "", fmt.Sprintf("more than %d patches", mostMarks), "mark fewer")
		}
	}
	if len(marks) == 0 {
		return nil, wrong(0, "", "no patch is marked in it", remedyHeader+", and a row for each patch")
	}
	return marks, nil
}
