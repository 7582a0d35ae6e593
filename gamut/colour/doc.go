// Package colour holds the colour science the rest of the program stands on:
// reflectance spectra, the CIE 1931 2 degree observer under three lights,
// CIE XYZ, CIELAB, LCh, sRGB, Munsell notation and the CIEDE2000 colour
// difference, and the words a painter has for a colour and for a miss.
//
// Every space has a type of its own; conversions are the only bridges between
// them. Where a conversion depends on the light, the light is its receiver or
// an argument. Units are the field's: reflectance factor 0..1, Y of the perfect
// diffuser 100, L* 0..100, hue in degrees, coded sRGB 0..1.
//
// There are 36 bands, 380-730 nm. Their weights are derived by go run ./weights in
// this folder (ASTM E2022, ends folded in as ASTM E308 asks) from the 1 nm observer
// that stands beside it, and committed as CSV, which reviews better than Go source.
// CIEDE2000 is our own, since go-colorful decides exactly opposite hues by the
// rounding of atan2 (pair 10 of the published table), and those hues are where a
// grey is judged. Munsell notation goes through the renotation data in polar CIELAB,
// brought from illuminant C to D65 by the linear Bradford transform.
package colour
