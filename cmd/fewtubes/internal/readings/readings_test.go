package readings

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"fewtubes/gamut/bounded"
	"fewtubes/gamut/colour"
)

// header400 is the wavelength columns 400-700 nm by 10 nm with a prefix.
func header400(prefix, sep string) string {
	var out []string
	for w := 400; w <= 700; w += 10 {
		out = append(out, fmt.Sprint(prefix, w))
	}
	return strings.Join(out, sep)
}

// flat31 is the same value at 31 wavelengths.
func flat31(v, sep string) string { return strings.TrimSuffix(strings.Repeat(v+sep, 31), sep) }

const cgatsHead = "CGATS.17\nORIGINATOR \"an instrument\"\nNUMBER_OF_FIELDS 33\n"

func cgatsText(rows ...string) string {
	return cgatsHead + "BEGIN_DATA_FORMAT\nSAMPLE_ID SAMPLE_NAME " + header400("SPECTRAL_NM", " ") + "\nEND_DATA_FORMAT\nBEGIN_DATA\n" +
		strings.Join(rows, "\n") + "\nEND_DATA\n"
}

func cxfText(spectra string) string {
	return `<?xml version="1.0" encoding="UTF-8"?>
<cc:CxF xmlns:cc="http://colorexchangeformat.com/CxF3-core"><cc:Resources><cc:ObjectCollection>` + spectra +
		`</cc:ObjectCollection><cc:ColorSpecificationCollection><cc:ColorSpecification Id="CS1"><cc:MeasurementSpec>
<cc:WavelengthRange StartWL="400" Increment="10"/></cc:MeasurementSpec></cc:ColorSpecification></cc:ColorSpecificationCollection></cc:Resources></cc:CxF>`
}

func cxfObject(name, values string) string {
	return `<cc:Object ObjectType="Sample" Name="` + name + `" Id="1"><cc:ColorValues><cc:ReflectanceSpectrum ColorSpecification="CS1">` +
		values + `</cc:ReflectanceSpectrum></cc:ColorValues></cc:Object>`
}

// The same two samples in all three formats.
func TestThreeFormatsAgree(t *testing.T) {
	const tint = "1 ultramarine-blue + 9 titanium-white over black"
	texts := map[string]string{
		"csv":   "sample," + header400("", ",") + "\ntitanium-white," + flat31("0.5", ",") + "\n" + tint + "," + flat31("0.25", ",") + "\n",
		"semi":  "# percent and decimal commas\nrecipe;" + header400("R", ";") + "\ntitanium-white;" + flat31("50,0", ";") + "\n" + tint + ";" + flat31("25,0", ";") + "\n",
		"sep":   "sep=;\r\nsample;" + header400("", ";") + "\r\ntitanium-white;" + flat31("0.5", ";") + "\r\n" + tint + ";" + flat31("0.25", ";") + "\r\n",
		"quote": "\"sep=|\"\nsample|" + header400("", "|") + "\ntitanium-white|" + flat31("0.5", "|") + "\n" + tint + "|" + flat31("0.25", "|") + "\n",
		"tab":   "SEP=\t\nsample\t" + header400("", "\t") + "\ntitanium-white\t" + flat31("0.5", "\t") + "\n" + tint + "\t" + flat31("0.25", "\t") + "\n",
		"cgats": cgatsText(`1 "titanium-white" `+flat31("50.0", " "), `2 "`+tint+`" `+flat31("25.0", "\t")),
		"cxf":   cxfText(cxfObject("titanium-white", flat31("0.5", " ")) + cxfObject(tint, flat31("0.25", "\n"))),
	}
	for name, text := range texts {
		set, err := Parse(name, []byte(text))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if len(set.Samples) != 2 {
			t.Errorf("%s: %d samples", name, len(set.Samples))
			continue
		}
		s := set.Samples[1]
		if len(s.Parts) != 2 || s.Parts[1] != (Part{Tube: "titanium-white", Amount: 9}) || s.Backing != OverBlack {
			t.Errorf("%s: recipe %+v over %v", name, s.Parts, s.Backing)
		}
		for b, have := range s.Have {
			nm := colour.StartNM + b*colour.StepNM
			if have != (nm >= 400 && nm <= 700) {
				t.Errorf("%s: %d nm: have %t", name, nm, have)
			}
			if have && math.Abs(s.Seen[b]-0.25) > 1e-12 {
				t.Errorf("%s: %d nm: %g", name, nm, s.Seen[b])
			}
		}
	}
}

// A straight line and a parabola keep their value at band centres: the triangle
// is symmetric, and a parabola gains its known second moment (h^2/6 for a
// continuous triangle of half-width h).
func TestFinerReadingsAreAveraged(t *testing.T) {
	for _, step := range []float64{1, 2, 5, 10} {
		var at, line []float64
		for w := 360.0; w <= 750; w += step {
			at, line = append(at, w), append(line, w/1000)
		}
		got, have := toBands(at, line)
		for b := range got {
			want := float64(colour.StartNM+b*colour.StepNM) / 1000
			if !have[b] || math.Abs(got[b]-want) > 1e-12 {
				t.Errorf("step %g, band %d: %g, want %g", step, b, got[b], want)
			}
		}
	}
}

func TestMistakesNameTheLineAndTheRemedy(t *testing.T) {
	head := "sample," + header400("", ",") + "\n"
	good := "titanium-white," + flat31("0.5", ",") + "\n"
	for name, c := range map[string]struct{ text, want string }{
		"empty":         {"", "empty"},
		"binary":        {"\x00\x01", "not UTF-8"},
		"no name":       {"colour," + header400("", ",") + "\n", "f:1: header: no column is called sample"},
		"short range":   {"sample,400,410,420\nx,1,1,1\n", "cover 400-420"},
		"coarse":        {"sample,400,420,440,700\n", "more than 10 nm apart"},
		"twice":         {"sample,400,400," + header400("", ",") + "\n", "given twice"},
		"not a number":  {head + good + strings.Replace(good, "0.5", "o.5", 1), "f:3: column 400: \"o.5\" is not a number"},
		"missing field": {head + good + "zinc-white,0.5\n", "f:3: 2 fields where the header has 32"},
		"under a sep":   {"sep=;\n" + strings.ReplaceAll(head+strings.Replace(good, "0.5", "o.5", 1), ",", ";"), "f:3: column 400: \"o.5\" is not a number"},
		"sep alone":     {"sep=;\n", "empty"},
		"recipe":        {head + strings.Replace(good, "titanium-white", "1 a + 2 g b", 1), "some parts are weighed"},
		"recipe twice":  {head + strings.Replace(good, "titanium-white", "1 a + 2 a", 1), "in it twice"},
		"amount":        {head + strings.Replace(good, "titanium-white", "0 a + 2 b", 1), "not above 0"},
		"density":       {head + strings.Replace(good, "titanium-white", "1 g a @99", 1), "density"},
		"over":          {head + strings.Replace(good, "titanium-white", "a over red", 1), "neither over white nor over black"},
		"too bright":    {head + strings.ReplaceAll(good, "0.5", "500"), "not within 0..2"},
		"cgats short":   {cgatsText(`1 "a" 0.5 0.5`), "of 33 fields"},
		"cgats open":    {strings.Replace(cgatsText(`1 "a" `+flat31("0.5", " ")), "END_DATA\n", "", 1), "no END_DATA"},
		"cgats quote":   {"BEGIN_DATA\n\"abc\n", "f:2: a quotation has no end"},
		"cgats order":   {"BEGIN_DATA\n1 2\nEND_DATA\n", "no BEGIN_DATA_FORMAT"},
		"cxf syntax":    {"<CxF><a></CxF>", "f:1"},
		"cxf entity":    {`<!DOCTYPE c [<!ENTITY a "aa"><!ENTITY b "&a;&a;">]><CxF>&b;</CxF>`, "entity"},
		"cxf number":    {cxfText(cxfObject("a", "0.1 x")), "f:2: ReflectanceSpectrum: \"x\" is not a number"},
		"cxf range":     {cxfText(cxfObject("a", "0.1 0.2")), "cover 400-410"},
		"cxf none":      {cxfText(""), "no readings"},
		"cxf deep":      {strings.Repeat("<a>", 100), "nested too deep"},
	} {
		_, err := Parse("f", []byte(c.text))
		var wrong *Error
		if !errors.As(err, &wrong) {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if !strings.Contains(err.Error(), c.want) || wrong.Remedy == "" || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %q lacks %q", name, err, c.want)
		}
	}
}

func TestWeighedTintsNeedDensities(t *testing.T) {
	head := "sample," + header400("", ",") + "\n"
	row := func(recipe string) string { return recipe + "," + flat31("0.5", ",") + "\n" }
	set, err := Parse("f", []byte(head+row("1 g a @2 + 3 g b @1.5")+row("2 g a + 6 g b")))
	if err != nil {
		t.Fatal(err)
	}
	none := func(string) float64 { return 0 }
	_, found, _, err := set.ForFit(none)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range [][]float64{{0.5, 2}, {1, 4}} { // mass over density
		if got := found[i].Amounts; math.Abs(got[0]-want[0])+math.Abs(got[1]-want[1]) > 1e-12 {
			t.Errorf("volumes %v, want %v", got, want)
		}
	}
	set, err = Parse("f", []byte(head+row("1 g a + 3 g b")))
	if err != nil {
		t.Fatal(err)
	}
	if _, _, _, err = set.ForFit(none); err == nil || !strings.Contains(err.Error(), "the density of a is not known") {
		t.Errorf("got %v", err)
	}
}

func TestFilmsNeedTheBareChart(t *testing.T) {
	head := "sample," + header400("", ",") + "\n"
	set, err := Parse("f", []byte(head+"a over white,"+flat31("0.5", ",")+"\n"))
	if err != nil {
		t.Fatal(err)
	}
	none := func(string) float64 { return 0 }
	if _, _, _, err := set.ForFit(none); err == nil || !strings.Contains(err.Error(), "add a reading called bare white") {
		t.Errorf("got %v", err)
	}
	set, err = Parse("f", []byte(head+"a over white,"+flat31("0.5", ",")+"\nbare white,"+flat31("0.8", ",")+"\n"))
	if err != nil {
		t.Fatal(err)
	}
	_, found, _, err := set.ForFit(none)
	if err != nil || len(found) != 1 || found[0].Backing == nil || math.Abs(found[0].Backing[0]-0.8) > 1e-12 || found[0].Film != "" {
		t.Errorf("got %+v, %v", found, err)
	}
}

// A film's thickness stands behind its ground; the column says the same or nothing.
func TestThicknessInTheName(t *testing.T) {
	for name, want := range map[string]float64{
		"a over white 24 um": 24, "a over black 24um": 24, "1 a + 2 b over white 7.5 \u00b5m": 7.5, "a over white 12 \u03bcm": 12, "a over white": 0,
	} {
		set, err := Parse("f", []byte("sample,"+header400("", ",")+"\n"+name+","+flat31("0.5", ",")+"\n"))
		if err != nil || set.Samples[0].Thickness != want || set.Samples[0].Backing == Opaque {
			t.Errorf("%s: %+v, %v", name, set, err)
		}
	}
	for name, says := range map[string]string{
		"a over white 24": "no thickness such as 24 um", "a over white 0 um": "not above 0", "a over white thick um": "not above 0",
		"a over white 24 mm": "no thickness", "a over white over black": "no thickness",
	} {
		set, err := Parse("f", []byte("sample,"+header400("", ",")+"\n"+name+","+flat31("0.5", ",")+"\n"))
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %+v, %v", name, set, err)
		}
	}
	row := "a over white 24 um,%s," + flat31("0.5", ",") + "\n"
	head := "sample,thickness," + header400("", ",") + "\n"
	if _, err := Parse("f", []byte(head+fmt.Sprintf(row, "25"))); err == nil || !strings.Contains(err.Error(), "25 here and 24 um in its name") {
		t.Errorf("two thicknesses: %v", err)
	}
	if set, err := Parse("f", []byte(head+fmt.Sprintf(row, "24"))); err != nil || set.Samples[0].Thickness != 24 {
		t.Errorf("the same twice: %v", err)
	}
}

// What cannot be read or fitted is left out with its reason, and the rest serves.
func TestOneBadSampleRefusesNotTheFile(t *testing.T) {
	head := "sample," + header400("", ",") + "\n"
	good := "titanium-white," + flat31("0.5", ",") + "\n"
	for what, c := range map[string]struct{ bad, says string }{
		"recipe":     {strings.Replace(good, "titanium-white", "1 a + 2 g b", 1), "f:3: sample \"1 a + 2 g b\": some parts are weighed"},
		"too bright": {strings.Replace(good, "0.5", "-3", 1), "f:3: 400 nm: reflectance -3"},
		"density":    {strings.Replace(good, "titanium-white", "1 g strange + 2 g titanium-white @2", 1), "f:3: sample \"1 g strange + 2 g titanium-white @2\": it is weighed, and the density of strange"},
		"bare chart": {strings.Replace(good, "titanium-white", "b over black", 1), "f:3: sample \"b over black\": it lies over black"},
	} {
		set, err := Parse("f", []byte(head+good+c.bad))
		if err != nil {
			t.Errorf("%s: %v", what, err)
			continue
		}
		tubes, found, unfit, err := set.ForFit(func(string) float64 { return 0 })
		leftOut := append(set.LeftOut, unfit...)
		if err != nil || len(leftOut) != 1 || !strings.HasPrefix(leftOut[0].Error(), c.says) || len(found) != 1 || len(tubes) != 1 {
			t.Errorf("%s: %v, left out %v, tubes %v", what, err, leftOut, tubes)
		}
	}
}

// Tags of a CxF3 object carry its recipe, wherever they stand; CGATS tables
// without spectra are passed over.
func TestTagsAndOtherTables(t *testing.T) {
	object := strings.Replace(cxfObject("patch 7", flat31("0.3", " ")), "</cc:Object>",
		`<cc:TagCollection><cc:Tag Name="Recipe" Value="1 a + 2 b"/><cc:Tag Name="Backing" Value="white"/></cc:TagCollection></cc:Object>`, 1)
	set, err := Parse("f", []byte(cxfText(object)))
	if err != nil || len(set.Samples) != 1 || len(set.Samples[0].Parts) != 2 || set.Samples[0].Backing != OverWhite || set.Samples[0].Name != "patch 7" {
		t.Errorf("%+v, %v", set, err)
	}
	other := "BEGIN_DATA_FORMAT\nSAMPLE_ID RGB_R\nEND_DATA_FORMAT\nBEGIN_DATA\n1 2\nEND_DATA\n"
	set, err = Parse("f", []byte(cgatsText(`1 a `+flat31("0.5", " "))+other))
	if err != nil || len(set.Samples) != 1 {
		t.Errorf("%+v, %v", set, err)
	}
}

// checkParsed holds what every accepted file must satisfy.
func checkParsed(t *testing.T, set *Set, err error) {
	if err != nil {
		var wrong *Error
		if !errors.As(err, &wrong) || wrong.Remedy == "" {
			t.Fatalf("%v is not an error the user can mend", err)
		}
		bounded.Refusal(t, err, "f.in", "; ")
		return
	}
	for _, s := range set.Samples {
		have := false
		for b, h := range s.Have {
			have = have || h
			if h && !(s.Seen[b] >= 0 && s.Seen[b] <= 2) {
				t.Fatalf("reflectance %g", s.Seen[b])
			}
		}
		if !have {
			t.Fatal("a sample without bands")
		}
		for _, p := range s.Parts {
			if !(p.Amount > 0) || p.Tube == "" {
				t.Fatalf("part %+v", p)
			}
		}
	}
	if len(set.Samples) == 0 {
		t.Fatal("no samples and no error")
	}
	_, _, _, err = set.ForFit(func(string) float64 { return 1 })
	var wrong *Error
	if err != nil && !errors.As(err, &wrong) {
		t.Fatal(err)
	}
	if err != nil {
		bounded.Refusal(t, err, "f.in", "; ")
	}
}

func FuzzCSV(f *testing.F) {
	f.Add("sample," + header400("", ",") + "\ntitanium-white," + flat31("0.5", ",") + "\n")
	f.Add("# note\nrecipe;backing;thickness;film;" + header400("R", ";") + "\n2 g a @1.6 + 3 g b;white;25;f;" + flat31("50,0", ";") + "\n")
	f.Add("sample\t400\n\"a\"\"b\t1")
	f.Fuzz(func(t *testing.T, text string) { fuzzReader(t, text, readCSV) })
}

func FuzzCGATS(f *testing.F) {
	f.Add(cgatsText(`1 "1 a + 2 b over white" `+flat31("50.0", " "), `2 "bare white" `+flat31("85", " ")))
	f.Add("BEGIN_DATA_FORMAT\nEND_DATA_FORMAT\nBEGIN_DATA\nEND_DATA")
	f.Fuzz(func(t *testing.T, text string) { fuzzReader(t, text, readCGATS) })
}

func FuzzCXF(f *testing.F) {
	f.Add(cxfText(cxfObject("1 g a @2 + 3 g b @1", flat31("0.5", " "))))
	f.Add(`<!DOCTYPE c [<!ENTITY a "aa">]><CxF>&a;</CxF>`)
	f.Add(`<CxF><Object Name="a"><ReflectanceSpectrum StartWL="400" Increment="1e-9">1 2</ReflectanceSpectrum></Object></CxF>`)
	f.Fuzz(func(t *testing.T, text string) { fuzzReader(t, text, readCXF) })
}

// fuzzReader drives one format's reader whatever the text begins with, then the
// rest of Parse.
func fuzzReader(t *testing.T, text string, read func(*Set, []byte) ([]raw, error)) {
	set := &Set{File: "f.in"}
	var found []raw
	var err error
	bounded.Work(t, len(text), func() { found, err = read(set, []byte(text)) })
	if err != nil {
		checkParsed(t, set, err)
		return
	}
	if len(found) == 0 {
		return
	}
	bounded.Work(t, len(text), func() { set, err = set.finish(found) })
	checkParsed(t, set, err)
}

func FuzzRecipe(f *testing.F) {
	for _, s := range []string{"ultramarine-blue", "1 a + 9 b over black", "2 g a @1.6 + 18g b", "bare white", "1e999 a", "+", "@2", "nan a"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var r Recipe
		var msg string
		bounded.Work(t, len(text), func() { r, msg = ParseRecipe(text) })
		if msg != "" {
			bounded.Refusal(t, errors.New(msg))
			return
		}
		for _, p := range r.Parts {
			if !(p.Amount > 0 && p.Amount <= 1e6) || p.Tube == "" || p.Density < 0 {
				t.Fatalf("%q: %+v", text, p)
			}
		}
	})
}

// Parts are written with a colon on the command line; a recipe may be too.
func TestRecipeWithColons(t *testing.T) {
	plain, _ := ParseRecipe("1 ultramarine-blue + 9 titanium-white over black")
	colons, msg := ParseRecipe("1:ultramarine-blue + 9:titanium-white over black")
	if msg != "" || !reflect.DeepEqual(plain, colons) || len(colons.Parts) != 2 {
		t.Errorf("%+v, want %+v: %s", colons, plain, msg)
	}
	for text, want := range map[string]string{"2 PB15:3": "pb15:3", "2:PB15:3": "pb15:3", "2 Phthalo blue (red shade)": "phthalo-blue-red-shade", "2 Payne's grey": "paynes-grey"} {
		if r, msg := ParseRecipe(text); msg != "" || r.Parts[0] != (Part{Tube: want, Amount: 2}) {
			t.Errorf("%s: %+v, %s", text, r, msg)
		}
	}
}

// Tubes go by the names of a catalogue, but two of the sheet do not become one.
func TestNameTubes(t *testing.T) {
	set, err := Parse("f", []byte("sample,L,a,b\nochre,60,10,40\n1 ochre + 4 zinc,80,5,20\nblue one,25,12,-40\nblue two,26,12,-40\n"))
	if err != nil {
		t.Fatal(err)
	}
	set.NameTubes(func(name string) string {
		return map[string]string{"ochre": "yellow-ochre", "zinc": "zinc-white", "blue-one": "blue", "blue-two": "blue"}[name]
	})
	var got []string
	for _, s := range set.Samples {
		got = append(got, s.Recipe.String())
	}
	if want := []string{"1 yellow-ochre", "1 yellow-ochre + 4 zinc-white", "1 blue-one", "1 blue-two"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// Colours stand in L, a, b or in any notation, some rows with a spectrum beside.
func TestColoursInsteadOfSpectra(t *testing.T) {
	set, err := Parse("f", []byte("sample,L,a,b,seen by,noise\nbare white,95,0,2,,\nultramarine-blue,25,12,-40,chip,\n1 ultramarine-blue + 9 titanium-white over white 24 um,60,0,-35,Camera,1.5\nburnt-sienna,200,0,0,,\nviridian,30,-20,2,moon,\n"))
	if err != nil || len(set.Samples) != 3 || len(set.LeftOut) != 2 || !set.HasColours() {
		t.Fatal(err, set)
	}
	for i, want := range []struct {
		lab   colour.Lab
		by    SeenBy
		noise float64
	}{{colour.Lab{L: 95, B: 2}, Instrument, 0.5}, {colour.Lab{L: 25, A: 12, B: -40}, Chip, 2}, {colour.Lab{L: 60, B: -35}, Camera, 1.5}} {
		s := &set.Samples[i]
		if s.Colour() != want.lab || s.By != want.by || s.Noise != want.noise {
			t.Errorf("%+v", s)
		}
	}
	for i, want := range []string{"f:5: ", "f:6: "} {
		if got := set.LeftOut[i].Error(); !strings.HasPrefix(got, want) {
			t.Error(got)
		}
	}
	set, err = Parse("f", []byte("sample;colour\nviridian;5G 4/2\nburnt-sienna;#7a4030\n"))
	if err != nil || len(set.Samples) != 2 {
		t.Fatal(err, set)
	}
	if c := set.Samples[0].Colour(); math.Abs(c.L-41.2) > 0.5 { // value 4
		t.Errorf("%v", c)
	}
	if _, err := Parse("f", []byte("sample,colour\nviridian,\n")); err == nil || !strings.Contains(err.Error(), "neither a spectrum nor a colour") {
		t.Error(err)
	}
}
