package check

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fewtubes/gamut/colour"
)

func readStep(words []string) (s Step, err error) {
	key, words := words[0], words[1:]
	switch key {
	case "cut":
		s.Action = MakeCut
		s.Cut, err = readCut(words)
		return s, err
	case "empty":
		s.Action = Empty
	default:
		if s.Action = Move; key == "split" {
			s.Action = Split
		}
		if err = s.readLimit(words); err != nil {
			return s, err
		}
		words = words[3:]
	}
	if s.Action == Split && len(words) > 0 {
		return s, errors.New("a split has no terms")
	}
	for _, w := range words {
		t, err := readTerm(w)
		if err != nil {
			return s, err
		}
		s.Terms = append(s.Terms, t)
	}
	return s, nil
}

func (s *Step) readLimit(words []string) (err error) {
	if len(words) < 3 {
		return errors.New("a limit, a band and a value are wanted")
	}
	limit := slices.Index(limitNames[:CutRow], words[0])
	if limit < 0 {
		return fmt.Errorf("%.20q is not a limit", words[0])
	}
	s.Limit = Row(limit)
	if s.Band, err = readIndex(words[1]); err != nil {
		return err
	}
	s.Value, err = readNumber(words[2])
	return err
}

func readIndex(w string) (int, error) {
	n, err := strconv.ParseUint(w, 10, 31)
	if err != nil {
		return 0, fmt.Errorf("%.20q is not a count", w)
	}
	return int(n), nil
}

func readTerm(w string) (t Term, err error) {
	name, times, ok := strings.Cut(w, "*")
	if !ok {
		return t, fmt.Errorf("%.20q is not a term", w)
	}
	for row, prefix := range limitNames {
		if index, ok := strings.CutPrefix(name, prefix); ok {
			t.Row = Row(row)
			if t.Index, err = readIndex(index); err != nil {
				return t, err
			}
			t.Times, err = readNumber(times)
			return t, err
		}
	}
	return t, fmt.Errorf("%.20q is not a row", name)
}

func readCut(words []string) (*Cut, error) {
	if len(words) != 1+colour.Bands {
		return nil, fmt.Errorf("a face and %d planes are wanted", colour.Bands)
	}
	face, err := readIndex(words[0])
	if err != nil {
		return nil, err
	}
	c := &Cut{Face: face}
	for b, w := range words[1:] {
		touch, high := strings.CutPrefix(w, "h")
		low := false
		if !high {
			touch, low = strings.CutPrefix(w, "l")
		}
		if !high && !low {
			return nil, fmt.Errorf("%.20q is not a plane", w)
		}
		c.Planes[b].High = high
		if touch != "" {
			if c.Planes[b].Touch, err = readNumber(touch); err != nil {
				return nil, err
			}
		}
	}
	return c, nil
}
