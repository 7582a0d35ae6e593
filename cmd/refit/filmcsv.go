package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strconv"

	"fewtubes/gamut/film"
)

const filmHeader = `# K and S of the tubes at 380-740 nm by 20 nm, three significant digits; between nodes natural cubic splines of the
# logarithms. Titanium white scatters 1, which is its S per mm; amounts are volumes of paint from the tube. All of it
# holds under the surface in surface.csv. Written by the refit command: do not edit.
`

// scaleTube is the tube whose S is 1.
const scaleTube = "titanium-white"

// filmCSV writes the paints at their nodes, in the order of steps, and the scale
// they are on.
func filmCSV(steps []derivation, paints map[string]*film.Paint, scale *film.Scale) ([]byte, error) {
	head := []string{"id", "quantity"}
	for i := range film.NodeCount {
		head = append(head, strconv.Itoa(film.NodeStartNM+i*film.NodeStepNM))
	}
	white := film.Paint{K: scale.WhiteMM, S: scale.WhiteMM}
	perMM := white.Nodes()
	records := [][]string{head, nodeRecord(scaleTube, "S_per_mm", perMM.S[:])}
	for _, s := range steps {
		n := paints[s.id].Nodes()
		records = append(records, nodeRecord(s.id, "K", n.K[:]), nodeRecord(s.id, "S", n.S[:]))
	}
	return csvText(filmHeader, records)
}

func nodeRecord(id, quantity string, values []float64) []string {
	record := []string{id, quantity}
	for _, v := range values {
		record = append(record, strconv.FormatFloat(v, 'g', -1, 64))
	}
	return record
}

// surfaceCSV states the surface that all of film.csv holds under.
func surfaceCSV(s film.Surface) ([]byte, error) {
	const head = "# The Saunderson constants under which film.csv holds. Written by the refit command: do not edit.\n"
	return csvText(head, [][]string{{"k1", "k2"}, {fmt.Sprint(s.K1), fmt.Sprint(s.K2)}})
}

// csvText is a comment and the records under it.
func csvText(comment string, records [][]string) ([]byte, error) {
	var out bytes.Buffer
	out.WriteString(comment)
	w := csv.NewWriter(&out)
	err := w.WriteAll(records)
	return out.Bytes(), err
}
