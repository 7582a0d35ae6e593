package main

import (
	"bytes"
	_ "embed"
	"fmt"
	"strings"
)

//go:embed derivations.csv
var derivationsCSV []byte

// source is one reading: a set and the name a paint has there.
type source struct{ set, name string }

func (s source) String() string { return s.set + ":" + s.name }

// derivation says how one tube comes by its K and S.
type derivation struct {
	id        string
	method    string
	readings  []source
	otherwise []source // of the same pigment, not used but where the readings are left out
	group     string   // of its chart patch
	relative  string   // a tube or an oil
}

// readDerivations reads the embedded list, in catalogue order.
func readDerivations() ([]derivation, error) {
	lines, err := parseTable(bytes.NewReader(derivationsCSV), "derivations.csv")
	if err != nil {
		return nil, err
	}
	var steps []derivation
	for _, l := range lines {
		d := derivation{id: l.fields["id"], method: l.fields["method"], group: l.fields["group"], relative: l.fields["relative"]}
		for field, into := range map[string]*[]source{"readings": &d.readings, "otherwise": &d.otherwise} {
			if *into, err = parseSources(l.fields[field]); err != nil {
				return nil, fmt.Errorf("derivations.csv:%d: %s: %w", l.number, field, err)
			}
		}
		steps = append(steps, d)
	}
	return steps, nil
}

// parseSources reads "berns:PB29; okumura:ultramarine blue".
func parseSources(text string) (out []source, err error) {
	if text == "" {
		return nil, nil
	}
	for one := range strings.SplitSeq(text, "; ") {
		set, name, ok := strings.Cut(one, ":")
		if !ok {
			return nil, fmt.Errorf("%q is not a set and a name", one)
		}
		out = append(out, source{set, name})
	}
	return out, nil
}
