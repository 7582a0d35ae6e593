// Package scene reads, checks and writes the scene file: the colours a painting
// needs and the limits its painter sets, in TOML that a person writes and
// comments by hand.
//
//	format = 1
//	title = "Salt marsh at ebb tide"
//	tolerance = 3              # CIEDE2000; 3 when left out
//	light = "D65"              # D65, D50 or A; D65 when left out
//	surface = "dry"            # dry or no-glare; dry when left out
//	palette = ["titanium-white", "yellow-ochre"]  # decided on; choose --save writes it
//
//	[limits]
//	max-tubes = 6
//	budget = 60                # currency units
//	avoid = ["cadmium"]
//	keep = ["titanium-white"]
//	never = []
//	only = []
//	own = ["yellow-ochre"]
//	at-most-one = [["viridian", "phthalocyanine-green"]]
//	paints-per-mix = 4
//	prefer = "usual"           # usual, accuracy, price, hazards or lightfastness
//
//	[[photo]]
//	name = "wide"
//	file = "wide.jpg"
//
//	[[target]]
//	name = "wet mud"
//	colour = "lab(38 4 9)"     # or lch(...), rgb(...), #rrggbb
//	plane = "foreground"       # foreground, middle, distance or sky; may be left out
//	area = 12                  # relative; 1 when left out
//	tolerance = 2              # instead of the scene's
//	at = {photo = "wide", x = 0.4, y = 0.8, radius = 0.02}  # fractions of the picture
package scene
