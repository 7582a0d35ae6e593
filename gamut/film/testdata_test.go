package film

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// sharedFolder holds the published readings; tests that need them are skipped
// where it is not.
func sharedFolder(t testing.TB) string {
	dir := os.Getenv("FEWTUBES_SHARED")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared")
	}
	dir = filepath.Join(dir, "data")
	if _, err := os.Stat(dir); err != nil {
		t.Skip("the published readings are not here; the committed figures are checked instead")
	}
	return dir
}

// table reads a CSV file as one map per row.
func table(t testing.TB, path string) (header []string, rows []map[string]string) {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, record := range all[1:] {
		row := map[string]string{}
		for i, v := range record {
			row[all[0][i]] = v
		}
		rows = append(rows, row)
	}
	return all[0], rows
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
