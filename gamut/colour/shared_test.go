package colour

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// readTable reads a CSV of the tests, comments and header row dropped.
func readTable(t testing.TB, path string) [][]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%s: %d rows, %v", path, len(rows), err)
	}
	return rows[1:]
}

func num(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// readings is a file of the optional readings folder, FEWTUBES_SHARED or
// ../shared beside the repository; ok is false where it is not at hand, and the
// test then rests on its committed figures alone.
func readings(t testing.TB, name string) (path string, ok bool) {
	t.Helper()
	dir := os.Getenv("FEWTUBES_SHARED")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared")
	}
	path = filepath.Join(dir, "data", name)
	if _, err := os.Stat(path); err != nil {
		t.Logf("%s is not at hand: checked against the committed figures alone", name)
		return "", false
	}
	return path, true
}
