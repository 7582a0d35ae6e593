package main

import (
	"bytes"
	_ "embed"
	"fmt"
)

//go:embed derivations.csv
var derivationsCSV []byte

// derivation says how one tube comes by its K and S.
type derivation struct {
	id       string
	method   string  // a key of methods
	reading  string  // which reading, or the recipe of a mixture
	scale    string  // a key of the scales, for methods that need one
	relative string  // tube whose S is borrowed
	strength float64 // K and S times this
}

// readDerivations reads the embedded list, in catalogue order.
func readDerivations() ([]derivation, error) {
	lines, err := parseTable(bytes.NewReader(derivationsCSV), "derivations.csv")
	if err != nil {
		return nil, err
	}
	var steps []derivation
	for _, l := range lines {
		d := derivation{
			id: l.fields["id"], method: l.fields["method"], reading: l.fields["reading"],
			scale: l.fields["scale"], relative: l.fields["relative"],
		}
		if d.strength, err = l.value("strength"); err != nil {
			return nil, err
		}
		if !(d.strength > 0) {
			return nil, fmt.Errorf("derivations.csv:%d: strength %g", l.number, d.strength)
		}
		steps = append(steps, d)
	}
	return steps, nil
}
