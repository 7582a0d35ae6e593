// Package owntubes reads, writes and changes the painter's box and own tubes: a TOML
// file that stands beside the catalogue or instead of it.
//
//	format = 1
//	catalogue = "beside"            # or "instead"
//
//	[[tube]]
//	id = "viridian"                 # a tube of the catalogue, by its id or in words
//
//	[[tube]]
//	like = "ultramarine-blue"       # the same, with its own price
//	price = 7.5
//	size-ml = 37
//	have = true                     # owned, so it costs nothing; the default
//
//	[[tube]]
//	id = "marsh-green"              # from a photograph with a grey card
//	name = "Marsh green"
//	pigments = ["PG7", "PBr7"]
//	masstone = "lab(31 -9 6)"
//	tint = "lab(74 -14 7)"          # one part in nine of titanium white
//	tint-parts = 9
//
//	[[tube]]
//	id = "my-grey"                  # a mixture kept in a tube
//	pigments = ["PB29", "PBr7"]
//	mix = [{tube = "ultramarine-blue", parts = 3}, {tube = "burnt-sienna", parts = 2}]
//
// Measured tubes carry k and s with their wavelengths, the surface they were
// fitted under and, as doubt, how far the fit leaves them open (package doubt).
//
// A box (Box) is such a file while tubes are put in and taken out: tables of other
// kinds, such as records of the swatches painted, have their place beside [[tube]],
// and whatever else its writer put there stays.
//
// A tube with an id of the catalogue, with pigments that it knows, or mixed of its
// tubes brings their hazards, cautions and lightfastness along. A file may add
// hazards but not take them away.
package owntubes
