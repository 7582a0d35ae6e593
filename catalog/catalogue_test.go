package catalog

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

func builtinTubes(t testing.TB) *Catalogue {
	t.Helper()
	c, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestUnknownTubeSuggests(t *testing.T) {
	c := builtinTubes(t)
	for typed, want := range map[string]string{
		"colbalt-blue":  "cobalt-blue",
		"phthalo-green": "phthalo-green-blue-shade",
		"siena":         "burnt-sienna",
		"raw umbre":     "raw-umber",
	} {
		_, err := c.Get(typed)
		var unknown *UnknownTube
		if !errors.As(err, &unknown) || !slices.Contains(unknown.Close, want) {
			t.Errorf("%q: %v, want %s among the suggestions", typed, err, want)
		}
	}
	if _, err := c.Get("zzzzzzzz"); err == nil || len(err.(*UnknownTube).Close) != 0 {
		t.Errorf("nonsense: %v", err)
	}
}

// atLeast is the size a landscape painter's choice of tubes must not fall below.
const atLeast = 64

func TestBuiltinHoldsWhatPaintersMeet(t *testing.T) {
	c := builtinTubes(t)
	if n := len(c.Tubes()); n < atLeast {
		t.Errorf("%d tubes, want at least %d", n, atLeast)
	}
	for _, id := range strings.Fields(`
		titanium-white zinc-white lead-white cadmium-lemon cadmium-yellow-light cadmium-yellow-medium cadmium-yellow-deep
		bismuth-yellow hansa-yellow-medium diarylide-yellow nickel-titanate-yellow naples-yellow naples-yellow-hue
		cadmium-orange pyrrole-orange cadmium-red-light cadmium-red-medium cadmium-red-deep pyrrole-red
		alizarin-crimson pyrrole-rubine quinacridone-red quinacridone-magenta
		cobalt-violet-light manganese-violet ultramarine-violet dioxazine-violet
		ultramarine-blue cobalt-blue cerulean-blue cerulean-blue-chromium prussian-blue indanthrone-blue
		phthalo-blue-red-shade phthalo-blue-green-shade cobalt-teal
		viridian chromium-oxide-green cobalt-green green-earth phthalo-green-blue-shade phthalo-green-yellow-shade sap-green hookers-green
		yellow-ochre raw-sienna burnt-sienna raw-umber raw-umber-neutral burnt-umber red-oxide buff-titanium naphthol-red carbon-black transparent-red-oxide transparent-yellow-oxide
		ivory-black mars-black paynes-grey neutral-grey`) {
		if _, err := c.Get(id); err != nil {
			t.Error(err)
		}
	}
}

// What K and S are counted in travels with them, and to catalogues made of the
// same tubes. The surface is the one a dry film is shown under.
func TestCatalogueStatesItsScale(t *testing.T) {
	c := builtinTubes(t)
	scale := c.Scale()
	if scale.Surface != film.Dry {
		t.Errorf("surface %v", scale.Surface)
	}
	// Published S of the titanium white of the paint films, 1/mm (Levinson, Berdahl, Akbari, 2005): 990 at 430 nm, 423 at 680.
	for nm, want := range map[int]float64{430: 990, 680: 423} {
		if got := scale.WhiteMM[(nm-colour.StartNM)/colour.StepNM]; math.Abs(got/want-1) > 0.02 {
			t.Errorf("white scatters %.0f per mm at %d nm, want %.0f", got, nm, want)
		}
	}
	other, err := c.With(c.Tubes()[:3])
	if err != nil || other.Scale() != scale || len(other.Tubes()) != 3 {
		t.Errorf("%v, scale %v", err, other.Scale().Surface)
	}
}

func TestClassesCoverTheTubes(t *testing.T) {
	c := builtinTubes(t)
	for _, class := range Classes() {
		n := 0
		for _, tube := range c.Tubes() {
			if tube.InClass(class) {
				n++
			}
		}
		if n == len(c.Tubes()) {
			t.Errorf("every tube is %q", class)
		}
	}
	for id, classes := range map[string][]string{
		"cadmium-orange":           {"cadmium", "toxic", "opaque"},
		"cobalt-blue":              {"cobalt", "toxic", "semi-transparent"},
		"lead-white":               {"lead", "toxic"},
		"alizarin-crimson":         {"fugitive", "transparent"},
		"raw-umber":                {"manganese", "toxic"},
		"nickel-titanate-yellow":   {"nickel", "antimony", "toxic"},
		"vermilion":                {"mercury", "toxic", "fugitive"},
		"cerulean-blue-chromium":   {"chromium", "cobalt"},
		"phthalo-green-blue-shade": {"copper", "transparent"},
		"zinc-white":               {"zinc", "brittle"},
		"titanium-zinc-white":      {"brittle", "convenience", "estimated"},
		"sap-green":                {"convenience", "estimated"},
		"caput-mortuum":            {"estimated"},
	} {
		tube, err := c.Get(id)
		if err != nil {
			t.Error(err)
			continue
		}
		for _, class := range classes {
			if !tube.InClass(class) {
				t.Errorf("%s is not in class %s", id, class)
			}
		}
	}
	for _, id := range []string{"viridian", "chromium-oxide-green", "phthalo-blue-green-shade", "yellow-ochre", "titanium-white"} {
		tube, _ := c.Find(id)
		for _, class := range []string{"toxic", "fugitive", "brittle", "convenience", "estimated"} {
			if tube.InClass(class) {
				t.Errorf("%s is %s", id, class)
			}
		}
	}
}

// Every metal hazard has its sentence, and every sentence defers to the label.
func TestCautionsDeferToTheLabel(t *testing.T) {
	for _, tube := range builtinTubes(t).Tubes() {
		if !strings.Contains(tube.Caution, "label") {
			t.Errorf("%s: %s", tube.ID, tube.Caution)
		}
		if tube.InClass("toxic") && strings.HasPrefix(tube.Caution, "No major hazard") {
			t.Errorf("%s: %v but %s", tube.ID, tube.Hazards, tube.Caution)
		}
	}
}

func TestDataErrorsSayWhere(t *testing.T) {
	nodes := strings.Repeat(",0.5", 19)
	films := strings.Join(filmColumns, ",") + "\na,K" + nodes + "\na,S" + nodes + "\na,S_per_mm" + nodes + "\n"
	head := "# a comment\n" + strings.Join(tubeColumns, ",") + "\n"
	good := "a,A,PB29,measured,,test,,follow the label,I,opaque,fast,1.5,1,100,40\n"
	mixed := strings.Replace(good, "a,A,PB29,measured,,", "b,B,PB29,estimated,a:2,", 1)
	for _, c := range []struct {
		what, tubes, films string
		line               int
		field              string
	}{
		{"a good file", head + good, films, -1, ""},
		{"no columns", "", films, 1, ""},
		{"wrong columns", "id,name\n", films, 1, ""},
		{"a field too few", head + "a,A\n", films, 3, ""},
		{"a bare quote", head + "a,\"A\n", films, 3, ""},
		{"capital in id", head + strings.Replace(good, "a,", "A,", 1), strings.ReplaceAll(films, "\na,", "\nA,"), 3, "id"},
		{"no caution", head + strings.Replace(good, "follow the label", "", 1), films, 3, "caution"},
		{"no such basis", head + strings.Replace(good, "measured", "guessed", 1), films, 3, "basis"},
		{"no such hazard", head + strings.Replace(good, "test,,", "test,dust,", 1), films, 3, "hazards"},
		{"no such pigment", head + strings.Replace(good, "PB29", "blue", 1), films, 3, "pigments"},
		{"density not a number", head + strings.Replace(good, "1.5", "heavy", 1), films, 3, "density_g_ml"},
		{"density NaN", head + strings.Replace(good, "1.5", "NaN", 1), films, 3, "density_g_ml"},
		{"price band 6", head + strings.Replace(good, "1.5,1,", "1.5,6,", 1), films, 3, "price_band"},
		{"twice", head + good + good, films, 4, "id"},
		{"no K and S", head + strings.Replace(good, "a,", "b,", 1), films, 3, "id"},
		{"K and S of no tube", head, films, 0, ""},
		{"K twice", head + good, films + "a,K" + nodes + "\n", 5, "quantity"},
		{"no unit", head + good, strings.Replace(films, "S_per_mm", "S", 1), 4, "quantity"},
		{"no S per mm", head + good, strings.Replace(films, "a,S_per_mm"+nodes+"\n", "", 1), 0, ""},
		{"a mixture", head + good + mixed, films, -1, ""},
		{"a mixture with K and S", head + strings.Replace(mixed, "b,B", "a,A", 1), films, 3, "parts"},
		{"a mixture of nothing", head + good + strings.Replace(mixed, "a:2", "z:2", 1), films, 4, "parts"},
		{"a mixture of itself", head + good + strings.Replace(mixed, "a:2", "b:2", 1), films, 4, "parts"},
		{"no amount", head + good + strings.Replace(mixed, "a:2", "a", 1), films, 4, "parts"},
		{"none of the quantities", head + good, strings.Replace(films, "a,S", "a,R", 1), 3, "quantity"},
		{"a K of 0", head + good, strings.Replace(films, "a,K,0.5", "a,K,0", 1), 2, "380"},
	} {
		files := fstest.MapFS{"d/tubes.csv": {Data: []byte(c.tubes)}, "d/film.csv": {Data: []byte(c.films)}, "d/surface.csv": {Data: []byte("k1,k2\n0.03,0.65\n")}}
		_, err := Read(files, "d")
		var wrong *DataError
		switch {
		case c.line < 0:
			if err != nil {
				t.Errorf("%s: %v", c.what, err)
			}
		case !errors.As(err, &wrong):
			t.Errorf("%s: %v", c.what, err)
		case wrong.Line != c.line || wrong.Field != c.field:
			t.Errorf("%s: %v (line %d, field %q), want line %d, field %q", c.what, err, wrong.Line, wrong.Field, c.line, c.field)
		}
	}
	if _, err := Read(fstest.MapFS{}, "d"); err == nil {
		t.Error("no files: no error")
	}
	for surface, line := range map[string]int{"k1\n0.03\n": 1, "k1,k2\n0.03,1\n": 2, "k1,k2\nx,0.6\n": 2, "k1,k2\n": 0} {
		_, err := Read(fstest.MapFS{"d/tubes.csv": {Data: []byte(head + good)}, "d/film.csv": {Data: []byte(films)}, "d/surface.csv": {Data: []byte(surface)}}, "d")
		var wrong *DataError
		if !errors.As(err, &wrong) || wrong.Line != line || wrong.File != "d/surface.csv" {
			t.Errorf("surface %q: %v", surface, err)
		}
	}
}

// Whatever order a file lists hazards in, answers list them alike.
func TestHazardsAreSorted(t *testing.T) {
	nodes := strings.Repeat(",0.5", 19)
	c, err := Read(fstest.MapFS{
		"d/film.csv":    {Data: []byte(strings.Join(filmColumns, ",") + "\na,K" + nodes + "\na,S" + nodes + "\na,S_per_mm" + nodes + "\n")},
		"d/surface.csv": {Data: []byte("k1,k2\n0.03,0.6\n")},
		"d/tubes.csv":   {Data: []byte(strings.Join(tubeColumns, ",") + "\na,A,PY35,measured,,test,zinc cadmium lead,follow the label,I,opaque,fast,1.5,1,100,40\n")},
	}, "d")
	if err != nil {
		t.Fatal(err)
	}
	if tube, _ := c.Find("a"); strings.Join(tube.Hazards, " ") != "cadmium lead zinc" {
		t.Errorf("%v", tube.Hazards)
	}
}
