package tubelist

import (
	"slices"
	"strings"
	"testing"

	"fewtubes/catalog"

	"pgregory.net/rapid"
)

// What painters would say across the table (common practice, no source).
func TestShortNames(t *testing.T) {
	all := builtinList(t)
	for ids, want := range map[string]string{
		"titanium-white hansa-yellow-medium quinacridone-magenta prussian-blue transparent-yellow-oxide":    "white, hansa yellow, magenta, blue, yellow oxide",
		"titanium-white yellow-ochre ultramarine-blue burnt-sienna":                                         "white, ochre, blue, sienna",
		"titanium-white zinc-white raw-sienna burnt-sienna raw-umber":                                       "titanium white, zinc white, raw sienna, burnt sienna, umber",
		"cadmium-yellow-light cadmium-yellow-deep phthalo-blue-green-shade phthalo-blue-red-shade viridian": "cadmium yellow light, cadmium yellow deep, phthalo blue (green shade), phthalo blue (red shade), viridian",
		"phthalo-blue-green-shade ultramarine-blue phthalo-green-blue-shade":                                "phthalo blue, ultramarine blue, green",
		"paynes-grey caput-mortuum buff-titanium":                                                           "grey, caput mortuum, buff titanium",
	} {
		list := strings.Fields(ids)
		short := all.Short(list)
		var got []string
		for _, id := range list {
			got = append(got, short(id))
		}
		if strings.Join(got, ", ") != want {
			t.Errorf("%q, want %q", strings.Join(got, ", "), want)
		}
	}
	if got := all.Kind([]string{"prussian-blue", "phthalo-blue-red-shade"}) + all.Kind([]string{"burnt-umber", "burnt-sienna"}); got != "bluestubes" {
		t.Error(got)
	}
}

// No two tubes of a palette are called the same.
func TestShortNamesTellApart(t *testing.T) {
	all := builtinList(t)
	rapid.Check(t, func(r *rapid.T) {
		ids := rapid.SliceOfNDistinct(rapid.SampledFrom(all.IDs()), 2, 12, rapid.ID).Draw(r, "ids")
		short := all.Short(ids)
		var names []string
		for _, id := range ids {
			names = append(names, short(id))
		}
		slices.Sort(names)
		if len(slices.Compact(names)) != len(ids) {
			r.Errorf("%v are called %v", ids, names)
		}
	})
}

func builtinList(t *testing.T) List {
	t.Helper()
	c, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	return c.Tubes()
}
