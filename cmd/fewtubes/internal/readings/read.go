package readings

import (
	"bytes"
	"fmt"
	"sort"
	"strings"
	"unicode/utf8"

	"fewtubes/cmd/fewtubes/internal/infile"
)

// Read reads a file of readings, whatever of the three formats it is in.
func Read(path string) (*Set, error) {
	data, err := infile.Read(path, maxBytes)
	if err != nil {
		return nil, err
	}
	return Parse(path, data)
}

// Parse reads the text of a file; name is used in errors only.
func Parse(name string, data []byte) (*Set, error) {
	set := &Set{File: name}
	if len(data) > maxBytes {
		return nil, set.wrong(0, "", fmt.Sprintf("it is larger than %d MB", maxBytes>>20), "export the readings alone")
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if !utf8.Valid(data) || bytes.IndexByte(data, 0) >= 0 {
		return nil, set.wrong(0, "", "it is not UTF-8 text", "export it as CSV, CGATS text or CxF3")
	}
	found, err := reader(data)(set, data)
	if err != nil {
		return nil, err
	}
	return set.finish(found)
}

// finish makes samples of what a format's reader found.
func (set *Set) finish(found []raw) (*Set, error) {
	if len(found) == 0 {
		return nil, set.wrong(0, "", "it holds no readings", "export samples with their reflectance spectra")
	}
	percent(found)
	for i := range found {
		s, err := set.sample(&found[i])
		if err != nil {
			set.LeftOut = append(set.LeftOut, err)
			continue
		}
		set.Samples = append(set.Samples, s)
	}
	if len(set.Samples) == 0 {
		return nil, set.LeftOut[0]
	}
	return set, nil
}

// reader tells the formats apart by their first words.
func reader(data []byte) func(*Set, []byte) ([]raw, error) {
	start := bytes.TrimSpace(data)
	switch {
	case bytes.HasPrefix(start, []byte("<")):
		return readCXF
	case bytes.Contains(data, []byte("BEGIN_DATA")):
		return readCGATS
	}
	return readCSV
}

// percent turns a file in percent into reflectance factors.
func percent(found []raw) {
	for _, r := range found {
		for _, v := range r.values {
			if v > 2 {
				for _, r := range found {
					for i := range r.values {
						r.values[i] /= 100
					}
				}
				return
			}
		}
	}
}

// sample makes sense of one raw sample.
func (set *Set) sample(r *raw) (s Sample, err error) {
	text, field := r.recipe, "recipe"
	if text == "" {
		text, field = r.name, "sample"
	}
	if text == "" {
		return s, set.wrong(r.line, "recipe", "the sample has neither a recipe nor a name", "write what is in it, such as 1 ultramarine-blue + 9 titanium-white")
	}
	parsed, msg := ParseRecipe(text)
	if msg != "" {
		return s, set.wrong(r.line, fmt.Sprintf("%s %q", field, clip(text)), msg, "write it like 1 ultramarine-blue + 9 titanium-white, then over black for a film on a chart")
	}
	s = Sample{Name: r.name, Line: r.line, Recipe: parsed, Film: r.film}
	if s.Name == "" {
		s.Name = strings.Join(strings.Fields(text), " ")
	}
	if r.backing != "" {
		b, ok := parseBacking(r.backing)
		if !ok {
			return s, set.wrong(r.line, "backing", fmt.Sprintf("%q is not white, black or opaque", clip(r.backing)), "write what lies under the film")
		}
		s.Backing = b
	}
	if r.thickness != "" {
		v, err := parseValue(r.thickness)
		if err != nil || !(v > 0 && v < 1e6) {
			return s, set.wrong(r.line, "thickness", fmt.Sprintf("%q is not a number above 0", clip(r.thickness)), "write the dry thickness, or nothing where it is not known")
		}
		if s.Thickness > 0 && s.Thickness != v {
			return s, set.wrong(r.line, "thickness", fmt.Sprintf("%g here and %g um in its name", v, s.Thickness), "write the same, or one of them")
		}
		s.Thickness = v
	}
	if msg, remedy := r.judge(&s); msg != "" {
		return s, set.wrong(r.line, fmt.Sprintf("%s %q", field, clip(text)), msg, remedy)
	}
	if s.Lab != nil {
		return s, nil
	}
	order := make([]int, len(r.wavelengths))
	for i := range order {
		order[i] = i
	}
	sort.Slice(order, func(a, b int) bool { return r.wavelengths[order[a]] < r.wavelengths[order[b]] })
	at, values := make([]float64, len(order)), make([]float64, len(order))
	for k, i := range order {
		at[k], values[k] = r.wavelengths[i], r.values[i]
		if v := values[k]; !(v >= -0.02 && v <= 2) {
			return s, set.wrong(r.line, fmt.Sprintf("%g nm", at[k]), fmt.Sprintf("reflectance %g is not within 0..2", v), "read the sample again")
		}
		values[k] = max(values[k], 0)
	}
	s.Seen, s.Have = toBands(at, values)
	return s, nil
}
