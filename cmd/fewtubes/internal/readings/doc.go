// Package readings reads spectrophotometer exports of painted samples: plain
// CSV, CGATS.17 text (ISO 28178) and CxF3 (ISO 17972).
//
// A sample's recipe stands in a column or tag "recipe" or, where there is none, is its
// name:
//
//	ultramarine-blue                              the masstone
//	1 ultramarine-blue + 9 titanium-white         parts by volume; 1:ultramarine-blue does as well
//	2 g ultramarine-blue @1.6 + 18 g titanium-white @2.1   by weight, density in g/ml after @
//	1 burnt-sienna + 4 zinc-white over black      a film over a black chart
//	1 burnt-sienna over white 24 um               one of known dry thickness
//	bare white, bare black                        the charts themselves
//
// A density is needed once per tube. CSV and CGATS files may have columns, CxF3
// objects tags, called backing (white, black, opaque), thickness (any one unit, but
// micrometres where names have it too) and film (the name of an unknown thickness that several samples share).
//
// Wavelengths are columns such as 400, 400nm, R400, SPECTRAL_NM400, at most 10 nm
// apart, covering 400-700 nm. Finer readings are averaged to 10 nm with a
// triangle 10 nm wide at half height. Values are reflectance factors, or
// percent where any of the file exceeds 2.
//
// A CSV file may give colours instead, in columns L, a, b (CIELAB, D65) or colour (any notation
// of a scene): a sample has a spectrum or a colour. Columns "seen by" (instrument, chip,
// camera) and noise (root mean square CIEDE2000) say how far a colour may be off.
//
// A sample that cannot be read or fitted is left out with the reason, and the others
// serve.
package readings
