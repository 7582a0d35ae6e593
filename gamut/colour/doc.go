// Package colour holds the colour science the rest of the program stands on:
// reflectance spectra, the CIE 1931 2 degree observer under three lights,
// CIE XYZ, CIELAB, LCh, sRGB, Munsell notation and the CIEDE2000 colour
// difference, and the words a painter has for a colour and for a miss.
//
// Every space has a type of its own; conversions are the only bridges between
// them. Where a conversion depends on the light, the light is its receiver or
// an argument. Units are the field's: reflectance factor 0..1, Y of the perfect
// diffuser 100, L* 0..100, hue in degrees, coded sRGB 0..1.
package colour
