// Package photo opens photographs: JPEG, PNG, WebP, TIFF and HEIC, turned
// upright, brought to sRGB by their embedded profile, and averaged in linear
// light to a size that is quick to work on.
package photo
