package colour

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

// sharmaTolerance is the rounding of the published table (four decimals) with
// the largest error a correct double-precision code shows on it.
const sharmaTolerance = 5.1e-5

// The 34 pairs of Sharma, Wu, Dalal, Color Res. Appl. 30:21-30, 2005, table 1.
func TestDE2000Published(t *testing.T) {
	f, err := os.Open("testdata/ciede2000_pairs.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 35 {
		t.Fatalf("%d rows, want a header and 34 pairs", len(rows))
	}
	for i, row := range rows[1:] {
		var v [7]float64
		for k, s := range row {
			if v[k], err = strconv.ParseFloat(s, 64); err != nil {
				t.Fatal(err)
			}
		}
		p, q := Lab{v[0], v[1], v[2]}, Lab{v[3], v[4], v[5]}
		for _, got := range []float64{DE2000(p, q), DE2000(q, p)} {
			if math.Abs(got-v[6]) > sharmaTolerance {
				t.Errorf("pair %d: %.6f, want %.4f", i+1, got, v[6])
			}
		}
	}
}
