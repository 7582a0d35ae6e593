package portable

import (
	"math"
	"testing"
)

// Each function beside that of package math.
func BenchmarkBesideMath(b *testing.B) {
	for _, c := range []struct {
		name       string
		ours, math func(float64) float64
		at         float64
	}{
		{"Exp", Exp, math.Exp, -1.3}, {"Log", Log, math.Log, 0.37}, {"Cbrt", Cbrt, math.Cbrt, 0.2}, {"Cos", Cos, math.Cos, 2.1},
		{"Sin", Sin, math.Sin, 2.1}, {"Tanh", Tanh, math.Tanh, 0.7}, {"Log1p", Log1p, math.Log1p, 0.8},
		{"Atan2", func(x float64) float64 { return Atan2(x, -20) }, func(x float64) float64 { return math.Atan2(x, -20) }, 12},
		{"Hypot", func(x float64) float64 { return Hypot(x, 7) }, func(x float64) float64 { return math.Hypot(x, 7) }, 12},
		{"Pow", func(x float64) float64 { return Pow(x, 2.4) }, func(x float64) float64 { return math.Pow(x, 2.4) }, 0.3},
	} {
		for _, f := range []struct {
			name string
			f    func(float64) float64
		}{{"ours", c.ours}, {"math", c.math}} {
			b.Run(c.name+"/"+f.name, func(b *testing.B) {
				x, sum := c.at, 0.0
				for range b.N {
					sum += f.f(x)
				}
				if sum == math.Pi {
					b.Log("unlikely")
				}
			})
		}
	}
}
