// Package film models a dry paint film: absorption K and scattering S per
// band, two-constant Kubelka-Munk mixing, and the surface the film is seen
// through (Saunderson).
//
// Amounts are volumes of paint from the tube. Only their ratios matter for an
// opaque film. K and S are on the scale where titanium white scatters 1, and
// are valid only with the surface constants they were fitted with.
package film
