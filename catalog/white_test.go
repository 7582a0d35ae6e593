package catalog

import "testing"

func TestWhiteOf(t *testing.T) {
	tube := func(pigments ...string) Tube { return Tube{Pigments: pigments} }
	tests := []struct {
		what  string
		tubes []Tube
		want  int
	}{
		{"titanium before another white", []Tube{tube("PB29"), tube("PW4"), tube("PW6")}, 2},
		{"any white", []Tube{tube("PY43"), tube("PW6", "PW4"), tube("PW1")}, 1},
		{"a tint is no white", []Tube{tube("PW6", "PB29")}, -1},
		{"unbleached titanium is no white", []Tube{tube("PW6:1")}, -1},
		{"unknown pigments", []Tube{tube()}, -1},
		{"nothing", nil, -1},
	}
	for _, x := range tests {
		if got := WhiteOf(x.tubes); got != x.want {
			t.Errorf("%s: %d, want %d", x.what, got, x.want)
		}
	}
}
