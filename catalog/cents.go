package catalog

import "fmt"

// Cents is an amount of money in hundredths of a currency unit, >= 0, written in
// units with two decimals.
type Cents int

func (c Cents) String() string { return fmt.Sprintf("%d.%02d", c/100, c%100) }

// MarshalJSON writes the same digits.
func (c Cents) MarshalJSON() ([]byte, error) { return []byte(c.String()), nil }
