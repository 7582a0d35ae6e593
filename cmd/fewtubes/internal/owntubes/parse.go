package owntubes

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/infile"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/tomltext"
	"fewtubes/gamut/film/doubt"

	"github.com/pelletier/go-toml/v2"
)

const (
	format      = 1       // the only version of the file there is
	largestFile = 4 << 20 // bytes, far beyond any box of paints
)

// Load reads a file and applies it to a catalogue. A file that cannot be read
// gives an *fs.PathError, one that is wrong an *Error; leftOut is as of Apply.
func Load(path string, c *catalog.Catalogue) (with *catalog.Catalogue, leftOut []error, err error) {
	f, err := Read(path)
	if err != nil {
		return nil, nil, err
	}
	return f.Apply(c)
}

// Read reads and checks a file, but for what only a catalogue can tell.
func Read(path string) (*File, error) {
	data, err := Text(path)
	if err != nil {
		return nil, err
	}
	return Parse(path, data)
}

// Text is what a file holds, or of one far too long the beginning.
func Text(path string) ([]byte, error) { return infile.Read(path, largestFile) }

// Parse is Read for the text of a file; name stands in the errors, each an
// *Error.
func Parse(name string, data []byte) (*File, error) {
	if len(data) > largestFile {
		return nil, &Error{File: name, Msg: "over 4 MB is no file of tubes", Remedy: "name a .toml file"}
	}
	data = bytes.TrimPrefix(data, []byte(byteOrderMark)) // some editors on Windows put it there
	if !tomltext.IsText(data) {
		return nil, &Error{File: name, Msg: "it is not UTF-8 text", Remedy: "name a file of tubes, which an editor saves as plain text"}
	}
	if tomltext.TooManyKeys(data) {
		return nil, &Error{File: name, Msg: "it holds over a thousand different keys", Remedy: "name a file of tubes, with the keys of one alone"}
	}
	var d document
	dec := toml.NewDecoder(bytes.NewReader(data)).DisallowUnknownFields()
	if err := dec.Decode(&d); err != nil {
		return nil, decodeError(name, err)
	}
	f := &File{name: name, at: indexLines(data)}
	if d.Format == nil || *d.Format != format {
		return nil, &Error{File: name, Line: f.at["format"], Field: "format", Msg: "the format is missing or not known here", Remedy: "begin the file with format = 1"}
	}
	switch d.Catalogue {
	case "", "beside":
	case "instead":
		f.Instead = true
	default:
		return nil, &Error{File: name, Line: f.at["catalogue"], Field: "catalogue", Msg: fmt.Sprintf("%q is neither beside nor instead", plain.Short(d.Catalogue)), Remedy: "write one of them"}
	}
	for i := range d.Tube {
		if err := f.take(i, &d.Tube[i]); err != nil {
			return nil, err
		}
	}
	f.Swatches = d.Swatch
	for i := range f.Swatches {
		if err := f.checkSwatch(i); err != nil {
			return nil, err
		}
	}
	return f, nil
}

// decodeError puts what the TOML decoder found wrong into our words.
func decodeError(name string, err error) error {
	t := tomltext.Explain(err)
	return &Error{File: name, Line: t.Line, Field: t.Key, Msg: t.Msg, Remedy: t.Remedy}
}

// take adds tube i of the document.
func (f *File) take(i int, d *docTube) error {
	f.Tubes = append(f.Tubes, Tube{
		ID: d.ID, Like: d.Like, Name: strings.TrimSpace(d.Name), Pigments: d.Pigments, Basis: catalog.Basis(d.Basis),
		Source: d.Source, Hazards: d.Hazards, Caution: d.Caution, Lightfastness: d.Lightfastness, Opacity: d.Opacity,
		Drying: d.Drying, Density: d.Density, SizeML: d.SizeML, NotOwned: d.Have != nil && !*d.Have,
	})
	t := &f.Tubes[i]
	if d.ID == "" && d.Like == "" {
		return f.wrong(i, "", "it has no id", `write id = "a-name-of-your-own", or like = "a-catalogue-id"`)
	}
	for _, q := range []struct{ key, text string }{{"name", d.Name}, {"source", d.Source}, {"caution", d.Caution}} {
		if !plain.Line(q.text) {
			return f.wrong(i, q.key, "it holds a line break or another character that steers what shows it", "write it on one line in plain letters")
		}
	}
	if p := d.Price; p != nil {
		if !(*p >= 0 && *p <= 1e6) {
			return f.wrong(i, "price", fmt.Sprintf("%v is no price", *p), "write currency units such as 12.5")
		}
		cents := int(math.Round(*p * 100))
		t.Price = &cents
	}
	for _, q := range []struct {
		key string
		v   *float64
		top float64
	}{{"density", d.Density, 25}, {"size-ml", d.SizeML, 1e5}} {
		if q.v != nil && !(*q.v > 0 && *q.v <= q.top) {
			return f.wrong(i, q.key, fmt.Sprintf("%v is out of range", *q.v), fmt.Sprintf("write a number over 0, at most %g", q.top))
		}
	}
	return f.takePaint(i, d)
}

// takePaint reads whichever of the ways to give a paint the tube uses.
func (f *File) takePaint(i int, d *docTube) error {
	t := &f.Tubes[i]
	ways := 0
	if t.Like == "" && !d.says() { // a tube of the catalogue by its name alone
		t.Like = t.ID
		return nil
	}
	for _, used := range []bool{d.Like != "", d.K != nil || d.S != nil, d.Masstone != "" || d.Tint != "", len(d.Mix) > 0} {
		if used {
			ways++
		}
	}
	if ways != 1 {
		return f.wrong(i, "", "its paint must be given in one way", "write like, or k and s, or masstone and tint, or mix")
	}
	if d.Doubt != nil && d.K == nil {
		return f.wrong(i, "doubt", "it belongs to k and s", "leave it out, or give k and s")
	}
	switch {
	case d.K != nil || d.S != nil:
		return f.takeFilm(i, d)
	case d.Masstone != "" || d.Tint != "":
		t.Colours = &Colours{d.Masstone, d.Tint, defaultTintParts}
		if d.TintParts != nil {
			t.Colours.Parts = *d.TintParts
		}
		if d.Masstone == "" || d.Tint == "" {
			return f.wrong(i, "", "masstone and tint are both needed", `write them as in masstone = "lab(40 -5 20)"`)
		}
	}
	for _, p := range d.Mix {
		if !(p.Parts > 0 && p.Parts <= 1e6) {
			return f.wrong(i, "mix", fmt.Sprintf("%v parts of %q make no mixture", p.Parts, plain.Short(p.Tube)), "write parts over 0")
		}
		t.Mix = append(t.Mix, p)
	}
	return nil
}

// says reports whether anything is said of the paint itself.
func (d *docTube) says() bool {
	return d.K != nil || d.S != nil || d.Masstone != "" || d.Tint != "" || d.TintParts != nil || len(d.Mix) > 0 ||
		d.Surface != nil || d.Wavelengths != nil || d.Doubt != nil
}

// defaultTintParts of white to one of the tube, as in the catalogue's swatches.
const defaultTintParts = catalog.SwatchParts

func (f *File) takeFilm(i int, d *docTube) error {
	if d.Surface == nil || d.Wavelengths == nil {
		return f.wrong(i, "k", "k and s need their wavelengths and the surface they were fitted under",
			"write wavelengths = {start = 380, step = 20} and surface = {k1 = 0.03, k2 = 0.65}")
	}
	t := &f.Tubes[i]
	t.Film = &Film{Surface: *d.Surface, Start: d.Wavelengths.Start, Step: d.Wavelengths.Step, K: d.K, S: d.S}
	if key, msg, remedy := t.Film.check(); msg != "" {
		return f.wrong(i, key, msg, remedy)
	}
	return f.takeDoubt(i, d.Doubt)
}

// mostDoubt is a factor of twenty, beyond which a tube is not known at all.
const mostDoubt = 3.0

func (f *File) takeDoubt(i int, d *docDoubt) error {
	if d == nil {
		return nil
	}
	for _, v := range []float64{d.Strength, d.Scattering, d.KShape, d.SShape} {
		if !(v >= 0 && v <= mostDoubt) {
			return f.wrong(i, "doubt", fmt.Sprintf("%v is no spread", v), fmt.Sprintf("write standard deviations of logarithms, 0 to %g, or leave doubt out", mostDoubt))
		}
	}
	spread := doubt.Spread{Strength: d.Strength, Scattering: d.Scattering, KShape: d.KShape, SShape: d.SShape}
	f.Tubes[i].Film.Doubt = &spread
	return nil
}
