package readings

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
)

// cxfRange is where the spectra of one colour specification begin and how they step.
type cxfRange struct{ start, step float64 }

// cxfSpectrum is one reflectance spectrum before its range is known: the
// specifications may stand after the objects.
type cxfSpectrum struct {
	raw
	spec        string
	start, step float64 // 0: as the specification says
}

// cxfReader walks a CxF3 document by element names, whatever their prefix.
type cxfReader struct {
	set      *Set
	ranges   map[string]cxfRange
	spec     string // the colour specification the walk is in
	name     string // of the object the walk is in
	spectra  []cxfSpectrum
	previous int // spectra before the object
	tags     raw // what tags of the object say
}

// close gives the spectrum of an object what its tags say, wherever they stand.
func (r *cxfReader) close() {
	if len(r.spectra) > r.previous {
		s := &r.spectra[r.previous]
		s.recipe, s.backing, s.thickness, s.film = r.tags.recipe, r.tags.backing, r.tags.thickness, r.tags.film
	}
	r.name, r.tags, r.previous = "", raw{}, len(r.spectra)
}

// readCXF reads the reflectance spectra of a CxF3 document. The decoder knows
// no entities but the five of XML, so none can multiply.
func readCXF(set *Set, data []byte) ([]raw, error) {
	d := xml.NewDecoder(bytes.NewReader(data))
	r := &cxfReader{set: set, ranges: map[string]cxfRange{}}
	depth := 0
	for {
		line, _ := d.InputPos()
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, set.wrong(line, "", xmlTrouble(err), "export the file again as CxF3 in UTF-8")
		}
		switch t := token.(type) {
		case xml.StartElement:
			if depth++; depth > maxDepth {
				return nil, set.wrong(line, "element "+clip(t.Name.Local), "elements are nested too deep", "export the file again as CxF3")
			}
			ended, err := r.open(d, t, line)
			if err != nil {
				return nil, err
			}
			if ended {
				depth--
			}
		case xml.EndElement:
			depth--
			if t.Name.Local == "Object" {
				r.close()
			}
			if t.Name.Local == "ColorSpecification" {
				r.spec = ""
			}
		}
	}
	return r.finish()
}

// xmlTrouble is the decoder's complaint without its own line number.
func xmlTrouble(err error) string {
	var syntax *xml.SyntaxError
	if errors.As(err, &syntax) {
		return clip(strings.TrimSuffix(syntax.Msg, ";"))
	}
	return clip(err.Error())
}

// open takes what a start element says; ended is true where it read to the end
// of the element.
func (r *cxfReader) open(d *xml.Decoder, t xml.StartElement, line int) (ended bool, err error) {
	switch t.Name.Local {
	case "Object":
		r.name, r.previous, r.tags = attribute(t, "Name"), len(r.spectra), raw{}
	case "Tag":
		field := map[string]*string{
			"recipe": &r.tags.recipe, "backing": &r.tags.backing, "thickness": &r.tags.thickness, "film": &r.tags.film,
		}[strings.ToLower(attribute(t, "Name"))]
		if field != nil {
			*field = attribute(t, "Value")
		}
	case "ColorSpecification":
		r.spec = attribute(t, "Id")
	case "WavelengthRange":
		start, err1 := parseValue(attribute(t, "StartWL"))
		step, err2 := parseValue(attribute(t, "Increment"))
		if err1 != nil || err2 != nil || !(step > 0) {
			return false, r.set.wrong(line, "WavelengthRange", "StartWL and Increment are not numbers of nm", `write them as in StartWL="400" Increment="10"`)
		}
		r.ranges[r.spec] = cxfRange{start, step}
	case "ReflectanceSpectrum":
		if len(r.spectra) > r.previous { // a second geometry of the same object
			return false, nil
		}
		return true, r.takeSpectrum(d, t, line)
	}
	return false, nil
}

func (r *cxfReader) takeSpectrum(d *xml.Decoder, t xml.StartElement, line int) error {
	var text strings.Builder
	for {
		token, err := d.Token()
		if err != nil {
			return r.set.wrong(line, "ReflectanceSpectrum", xmlTrouble(err), "export the file again as CxF3 in UTF-8")
		}
		switch t := token.(type) {
		case xml.CharData:
			if text.Len()+len(t) > maxText {
				return r.set.wrong(line, "ReflectanceSpectrum", "too many values", "export 400-700 nm by 10 or 5 nm")
			}
			text.Write(t)
			continue
		case xml.StartElement:
			return r.set.wrong(line, "ReflectanceSpectrum", "it holds an element, not numbers", "export the file again as CxF3")
		case xml.EndElement:
		default:
			continue
		}
		break
	}
	s := cxfSpectrum{raw: raw{line: line, name: r.name}, spec: attribute(t, "ColorSpecification")}
	if v := attribute(t, "StartWL"); v != "" {
		start, err := parseValue(v)
		if err != nil {
			return r.set.wrong(line, "StartWL", fmt.Sprintf("%q is not a number", clip(v)), `write it as in StartWL="400"`)
		}
		s.start = start
	}
	if v := attribute(t, "Increment"); v != "" {
		step, err := parseValue(v)
		if err != nil || !(step > 0) {
			return r.set.wrong(line, "Increment", fmt.Sprintf("%q is not a number of nm", clip(v)), `write it as in Increment="10"`)
		}
		s.step = step
	}
	for _, f := range strings.Fields(text.String()) {
		v, err := parseValue(f)
		if err != nil {
			return r.set.wrong(line, "ReflectanceSpectrum", fmt.Sprintf("%q is not a number", clip(f)), "write reflectances such as 0.43")
		}
		if s.values = append(s.values, v); len(s.values) > maxFields {
			return r.set.wrong(line, "ReflectanceSpectrum", "too many values", "export 400-700 nm by 10 or 5 nm")
		}
	}
	if r.spectra = append(r.spectra, s); len(r.spectra) > maxSamples {
		return r.set.wrong(line, "", fmt.Sprintf("more than %d samples", maxSamples), "split the file")
	}
	return nil
}

// finish gives every spectrum its wavelengths.
func (r *cxfReader) finish() (out []raw, err error) {
	for _, s := range r.spectra {
		span, known := r.ranges[s.spec]
		if !known && len(r.ranges) == 1 {
			for _, only := range r.ranges {
				span = only
			}
		}
		if s.start > 0 {
			span.start = s.start
		}
		if s.step > 0 {
			span.step = s.step
		}
		if span.start <= 0 || span.step <= 0 {
			return nil, r.set.wrong(s.line, "ReflectanceSpectrum", "its wavelengths are not given", `add StartWL="400" Increment="10", or a WavelengthRange to its ColorSpecification`)
		}
		for i := range s.values {
			s.wavelengths = append(s.wavelengths, span.start+float64(float64(i)*span.step))
		}
		if msg := checkWavelengths(s.wavelengths); msg != "" {
			return nil, r.set.wrong(s.line, "ReflectanceSpectrum", msg, "export 400-700 nm by 10 or 5 nm")
		}
		out = append(out, s.raw)
	}
	return out, nil
}

func attribute(t xml.StartElement, name string) string {
	for _, a := range t.Attr {
		if a.Name.Local == name {
			return strings.TrimSpace(a.Value)
		}
	}
	return ""
}
