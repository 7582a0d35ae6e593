package report

import (
	"fmt"
	"strings"
)

// Fragile is a mix that a small error of hand or model can spoil.
type Fragile struct {
	Target  string   `json:"target"`
	Reasons []string `json:"reasons"`
}

const (
	hair      = 0.3  // of CIEDE2000, between a difference and its tolerance
	thinShare = 0.02 // of the volume: too little to measure with a knife
)

// fragile lists the mixes of a palette whose verdict hangs on a hair or that
// take a trace of a paint.
func (c *Choice) fragile(p Palette) []Fragile {
	out := []Fragile{}
	for _, t := range p.Targets {
		var reasons []string
		switch gap := nearestHundredth(float64(t.Tolerance - t.DE)); {
		case t.Reached && gap <= hair:
			reasons = append(reasons, fmt.Sprintf("reached by a hair (ΔE00 %s of %s)", t.DE, t.Tolerance))
		case !t.Reached && gap >= -hair:
			reasons = append(reasons, fmt.Sprintf("missed by a hair (ΔE00 %s of %s)", t.DE, t.Tolerance))
		}
		var traces []string
		for _, s := range t.Shares {
			if s.Fraction > 0 && s.Fraction < thinShare {
				traces = append(traces, fmt.Sprintf("%s (%s)", c.name(s.ID), Millionths(s.Fraction).Percent()))
			}
		}
		if len(traces) > 0 {
			reasons = append(reasons, "only a trace of "+listed(traces, "and"))
		}
		if len(reasons) > 0 {
			out = append(out, Fragile{t.Name, reasons})
		}
	}
	return out
}

// Sentence is the entry in one line.
func (f Fragile) Sentence() string { return f.Target + ": " + strings.Join(f.Reasons, "; ") }
