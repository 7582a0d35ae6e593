package mixing

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/plain"
)

// Amount is a volume of one tube, in parts.
type Amount struct {
	ID    string
	Parts float64 // > 0
}

// MostParts is the most parts of one tube in a pile that is read.
const MostParts = 1000

// amountForm is plain decimals only: what strconv takes besides, such as 1e3
// or 0x10, is more likely a slip.
var amountForm = regexp.MustCompile(`^\d{1,7}(\.\d{1,6})?$`)

// errNoAmounts is the error for a pile of nothing.
var errNoAmounts = errors.New("no paint is named; write parts and tube, as in 3:ultramarine-blue")

// ParseAmounts reads parts and tubes such as 3:ultramarine-blue, parted by
// commas or given one by one, each tube once. Names stand as they were typed. Parts run from a millionth to
// MostParts and may be decimal, so that a pile that was added to can be written
// down. Whether the tubes exist is not asked.
func ParseAmounts(given ...string) ([]Amount, error) {
	var out []Amount
	seen := map[string]bool{}
	for part := range strings.SplitSeq(strings.Join(given, ","), ",") {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		a, err := parseAmount(part)
		if err != nil {
			return nil, err
		}
		if seen[a.ID] {
			return nil, fmt.Errorf("%s is named twice; add its parts together", plain.Short(a.ID))
		}
		seen[a.ID] = true
		out = append(out, a)
	}
	if len(out) == 0 {
		return nil, errNoAmounts
	}
	return out, nil
}

// FindTubes puts the ids of the tubes meant in the place of their names. Errors are
// of catalog.Catalogue.Get, or about a tube named twice.
func FindTubes(all *catalog.Catalogue, amounts []Amount) error {
	seen := map[string]bool{}
	for i := range amounts {
		tube, err := all.Get(amounts[i].ID)
		if err != nil {
			return err
		}
		if amounts[i].ID = tube.ID; seen[tube.ID] {
			return fmt.Errorf("%s is named twice; add its parts together", tube.ID)
		}
		seen[tube.ID] = true
	}
	return nil
}

func parseAmount(text string) (Amount, error) {
	number, id, found := strings.Cut(text, ":")
	number, id = strings.TrimSpace(number), strings.TrimSpace(id)
	switch {
	case !found:
		return Amount{}, fmt.Errorf("%s has no parts; write them before the tube, as in 3:%[1]s", plain.Short(text))
	case id == "":
		return Amount{}, fmt.Errorf("%s: the tube is missing; write it as in 3:ultramarine-blue", plain.Short(text))
	case !amountForm.MatchString(number):
		return Amount{}, fmt.Errorf("%s: its parts are no plain number; write a number over 0, as in 3:ultramarine-blue", plain.Short(text))
	}
	n, err := strconv.ParseFloat(number, 64)
	if err != nil || n <= 0 || n > MostParts {
		return Amount{}, fmt.Errorf("%s: its parts are out of range; write a number over 0, at most %d", plain.Short(text), MostParts)
	}
	return Amount{id, n}, nil
}
