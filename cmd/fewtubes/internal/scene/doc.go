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
//	by-hand = false            # true: only what straight tubes and touches mix counts
//	prefer = "usual"           # usual, accuracy, price, hazards, lightfastness or holds
//
//	[air]
//	range = "20 km"            # or clear, hazy, misty; clear when left out
//	airlight = "lab(78 -2 -6)" # the sky at the horizon when left out
//	hue = "measured"           # or seen
//	[air.planes]               # how far off they lie
//	foreground = "0 km"
//	middle = "1 km"
//	distance = "6 km"
//
//	[[photo]]
//	name = "wide"
//	file = "wide.jpg"
//	planes = ["sky=0:0.3", "middle=0,0.4 1,0.3 1,0.6"]  # by heights, or by corners
//	distances = {middle = "2 km"}                       # there, when not as in the painting
//	crop = [0.1, 0.2, 0.9, 1]                           # left, top, right, bottom of what counts
//
//	[[target]]
//	name = "wet mud"
//	colour = "lab(38 4 9)"     # or lch(...), rgb(...), #rrggbb
//	plane = "foreground"       # foreground, middle, distance or sky; may be left out
//	area = 12                  # relative; by its plane when left out
//	tolerance = 2              # instead of the scene's
//	seen = "6 km"              # how far off it was; when left out, as its plane where it was picked, or 0
//	at = {photo = "wide", x = 0.4, y = 0.8, radius = 0.02}  # fractions of the picture
package scene
