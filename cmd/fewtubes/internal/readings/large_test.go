package readings

import (
	"strings"
	"testing"

	"fewtubes/gamut/bounded"
)

// Files just under the size that counts, of many small entries.
func TestLargeFiles(t *testing.T) {
	spectrum := flat31("0.5", " ")
	bounded.Large(t, map[string]string{
		"CSV rows":      "sample," + header400("", ",") + "\n" + strings.Repeat("white,"+flat31("0.5", ",")+"\n", 7_000),
		"CSV columns":   "sample," + strings.Repeat("400,", 250_000) + "\n",
		"CSV quotation": "sample,400\n\"" + strings.Repeat("a\n", 500_000),
		"recipe":        "recipe," + header400("", ",") + "\n" + strings.Repeat("1 a +", 200_000) + "," + flat31("0.5", ",") + "\n",
		"CGATS words":   "BEGIN_DATA_FORMAT " + strings.Repeat("a ", 500_000) + "END_DATA_FORMAT BEGIN_DATA END_DATA",
		"CGATS tables":  strings.Repeat("BEGIN_DATA_FORMAT A END_DATA_FORMAT BEGIN_DATA 1 END_DATA\n", 17_000),
		"CGATS open":    strings.Repeat("BEGIN_DATA_FORMAT ", 58_000),
		"CXF depth":     strings.Repeat("<a>", 340_000),
		"CXF objects":   "<CxF>" + strings.Repeat(`<Object Name="a"><ReflectanceSpectrum StartWL="400" Increment="10">`+spectrum+`</ReflectanceSpectrum></Object>`, 4_000) + "</CxF>",
		"CXF ranges":    "<CxF>" + strings.Repeat(`<WavelengthRange StartWL="400" Increment="10"/>`, 21_000) + "</CxF>",
		"CXF attribute": `<CxF a="` + strings.Repeat("é", 500_000) + `"/>`,
	}, func(text []byte) error {
		set, err := Parse("f.in", text)
		if err == nil {
			_, _, _, err = set.ForFit(func(string) float64 { return 1 })
		}
		return err
	}, "f.in", "; ")
}
