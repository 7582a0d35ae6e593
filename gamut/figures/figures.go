// Package figures reads the tables of figures that tests are held against: CSV
// files with a header and, on lines that begin with #, where the figures come
// from. Only tests use it.
package figures

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"
)

// Table is the header and the rows of a file. No row, or one of another length
// than the header, fails the test.
func Table(t testing.TB, path string) (header []string, rows [][]string) {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatalf("%s: %d lines, %v", path, len(all), err)
	}
	return all[0], all[1:]
}

// Rows is a table without its header.
func Rows(t testing.TB, path string) [][]string {
	t.Helper()
	_, rows := Table(t, path)
	return rows
}

// Named is a table whose fields go by the names of the header.
func Named(t testing.TB, path string) (rows []map[string]string) {
	t.Helper()
	header, all := Table(t, path)
	for _, fields := range all {
		row := map[string]string{}
		for i, field := range fields {
			row[header[i]] = field
		}
		rows = append(rows, row)
	}
	return rows
}

// Number is one field; what is no number fails the test.
func Number(t testing.TB, field string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(field, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Numbers are several fields of a row.
func Numbers(t testing.TB, fields []string) []float64 {
	t.Helper()
	out := make([]float64, len(fields))
	for i, field := range fields {
		out[i] = Number(t, field)
	}
	return out
}
