package readings

import (
	"errors"
	"math"
	"strconv"
	"strings"
)

var errNumber = errors.New("not a number")

// parseValue reads a finite number; a decimal comma is understood where the
// separator is not a comma.
func parseValue(s string) (float64, error) {
	if len(s) == 0 || len(s) > 40 || strings.ContainsAny(s, "xXpP_iInN") {
		return 0, errNumber
	}
	if strings.Count(s, ",") == 1 && !strings.Contains(s, ".") {
		s = strings.Replace(s, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0, errNumber
	}
	return v, nil
}
