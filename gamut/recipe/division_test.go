package recipe

import "testing"

// Two ingredients in whole parts: as many as there are coprime pairs with a sum
// from 2 to 12, the sum of Euler's totient over these (OEIS A002088 less one: 45,
// from memory), but for 9:1, 9:2, 10:1 and 11:1, which have more than eight of one.
func TestDivisions(t *testing.T) {
	whole := 0
	for _, d := range divisions(2, 12) {
		if d.touches == 0 {
			whole++
		}
	}
	if whole != 45-2*4 {
		t.Errorf("%d divisions of two", whole)
	}
	if one := divisions(1, 12); len(one) != 1 || one[0].total != 4 {
		t.Errorf("one ingredient: %v", one)
	}
	for n := 1; n <= mostIngredients; n++ {
		last := uint8(0)
		for _, d := range divisions(n, 12) {
			if d.total < last || d.total > 48 {
				t.Fatalf("%d ingredients: %v after %d quarters", n, d, last)
			}
			last = d.total
		}
	}
}
