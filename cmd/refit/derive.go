package main

import (
	"bytes"
	"context"
	_ "embed"
	"encoding/csv"
	"fmt"
	"io"
	"io/fs"
	"strconv"

	"fewtubes/gamut/film"
)

//go:embed derivations.csv
var derivationsCSV []byte

// derivation says how one tube comes by its K and S.
type derivation struct {
	id, method, reading string
}

func readDerivations() ([]derivation, error) {
	lines, err := parseTable(bytes.NewReader(derivationsCSV), "derivations.csv")
	if err != nil {
		return nil, err
	}
	var steps []derivation
	for _, l := range lines {
		steps = append(steps, derivation{l.fields["id"], l.fields["method"], l.fields["reading"]})
	}
	return steps, nil
}

func derive(ctx context.Context, files fs.FS, steps []derivation, log io.Writer) ([]byte, error) {
	acrylics, err := readAcrylics(files)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	head := []string{"id", "quantity"}
	for i := range film.NodeCount {
		head = append(head, strconv.Itoa(film.NodeStartNM+i*film.NodeStepNM))
	}
	w.Write(head)
	for _, d := range steps {
		p, ok := acrylics[d.reading]
		if d.method != "acrylic" || !ok {
			return nil, fmt.Errorf("%s: no %s reading %q", d.id, d.method, d.reading)
		}
		n := p.Nodes()
		w.Write(nodeRecord(d.id, "K", n.K[:]))
		w.Write(nodeRecord(d.id, "S", n.S[:]))
	}
	w.Flush()
	return out.Bytes(), w.Error()
}

func nodeRecord(id, quantity string, values []float64) []string {
	record := []string{id, quantity}
	for _, v := range values {
		record = append(record, strconv.FormatFloat(v, 'g', -1, 64))
	}
	return record
}
