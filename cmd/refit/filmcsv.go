package main

import (
	"bytes"
	"encoding/csv"
	"strconv"

	"fewtubes/gamut/film"
)

const filmHeader = `# K and S of the tubes at 380-740 nm by 20 nm, three significant digits; between nodes natural cubic splines of the
# logarithms. Titanium white scatters 1; amounts are volumes of paint from the tube; surface k1 0.03, k2 0.65.
# Written by the refit command: do not edit.
`

// filmCSV writes the paints at their nodes, in the order of steps.
func filmCSV(steps []derivation, paints map[string]*film.Paint) ([]byte, error) {
	var out bytes.Buffer
	out.WriteString(filmHeader)
	w := csv.NewWriter(&out)
	head := []string{"id", "quantity"}
	for i := range film.NodeCount {
		head = append(head, strconv.Itoa(film.NodeStartNM+i*film.NodeStepNM))
	}
	if err := w.Write(head); err != nil {
		return nil, err
	}
	for _, s := range steps {
		n := paints[s.id].Nodes()
		records := [][]string{nodeRecord(s.id, "K", n.K[:]), nodeRecord(s.id, "S", n.S[:])}
		if err := w.WriteAll(records); err != nil {
			return nil, err
		}
	}
	return out.Bytes(), nil
}

func nodeRecord(id, quantity string, values []float64) []string {
	record := []string{id, quantity}
	for _, v := range values {
		record = append(record, strconv.FormatFloat(v, 'g', -1, 64))
	}
	return record
}
