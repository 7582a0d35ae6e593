package doubt

import "fewtubes/gamut/portable"

// AtLeast is the exact lower bound at 99 % of the share of all boxes in which a palette
// holds that holds in k of n (Clopper and Pearson, "The use of confidence or fiducial
// limits illustrated in the case of the binomial", Biometrika 26, 1934): the share at
// which k or more of n come up with probability 0.01. It is rounded down to a tenth of
// a per cent.
func AtLeast(k, n int) float64 {
	const probability = 0.01
	low, high := 0, 1000
	for high-low > 1 {
		middle := (low + high) / 2
		if tail(k, n, float64(middle)/1000) <= probability {
			low = middle
		} else {
			high = middle
		}
	}
	if tail(k, n, 1) <= probability {
		low = 1000
	}
	return float64(low) / 1000
}

// tail is the probability that k or more of n come up at probability p of each.
func tail(k, n int, p float64) float64 {
	switch {
	case k <= 0 || p >= 1:
		return 1
	case p <= 0:
		return 0
	}
	hit, miss := portable.Log(p), portable.Log(1-p)
	choose := 0.0 // ln of n over i
	sum := 0.0
	for i := n; i >= k; i-- {
		sum += portable.Exp(choose + float64(float64(i)*hit) + float64(float64(n-i)*miss))
		choose += portable.Log(float64(i)) - portable.Log(float64(n-i+1))
	}
	return sum
}
