// Package patches reads the colours of painted patches from a photograph in which patches of known
// colour lie beside them: a grey card, which gives white balance and exposure, or a
// card of printed colours, which gives three by three numbers more.
//
// Where the patches lie stands in a CSV file, in shares of the width and height of the upright picture:
//
//	sample,left,top,width,height,colour
//	grey card,0.05,0.10,0.08,0.20,lab(50 0 0)
//	1 ultramarine-blue + 4 titanium-white,0.30,0.10,0.10,0.20,
//
// A row with a colour (any notation of a scene, D65) is a patch of known colour; one without is a
// swatch, named by its recipe.
package patches
