package shown

import "testing"

func TestMLIsEnough(t *testing.T) {
	for v, want := range map[ML]string{0: "0.1", 0.02: "0.1", 1.2: "1.2", 1.21: "1.3", 4.85: "4.9", 4.91: "5", 5: "5", 5.01: "6", 31.2: "32"} {
		if got := v.String(); got != want {
			t.Errorf("%v ml is shown as %s, want %s", float64(v), got, want)
		}
	}
}
