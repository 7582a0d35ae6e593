package sheet

import (
	"fmt"
	"strings"
)

// Paper is a sheet size in millimetres, upright.
type Paper struct {
	Name          string
	Width, Height float64
}

// The two papers desk printers take: ISO 216, and ANSI/ASME Y14.1 size A.
var (
	A4     = Paper{"A4", 210, 297}
	Letter = Paper{"Letter", 215.9, 279.4}
)

// ParsePaper finds a paper by name, in either case.
func ParsePaper(name string) (Paper, error) {
	for _, p := range []Paper{A4, Letter} {
		if strings.EqualFold(name, p.Name) {
			return p, nil
		}
	}
	return Paper{}, fmt.Errorf("unknown paper %q; use A4 or Letter", name)
}
