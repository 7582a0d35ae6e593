// Package packing works out how much paint a picture takes: millilitres per
// tube, which tubes to carry, what they weigh, the order they dry in and what
// to mind on the way.
//
// The volume laid is area x film thickness x coats. It is shared among the
// colours of the scene by their areas, and within a colour among the tubes by
// the volume shares of its recipe. Some paint stays on the palette, the knife and the
// brush: that waste is added.
//
// # Worked example, by hand
//
// A board of 30 x 40 cm, one coat of 0.2 mm, 30 % for waste:
//
//	laid       30 cm x 40 cm x 0.02 cm                     24 ml
//	squeezed   24 ml x 1.3                                 31.2 ml
//
//	sky    50 %  15.60 ml   3 white + 1 blue               white 11.70  blue 3.90
//	marsh  30 %   9.36 ml   2 white + 1 yellow + 1 blue    white  4.68  blue 2.34  yellow 2.34
//	mud    20 %   6.24 ml   2 sienna + 1 white + 1 blue    white  1.56  blue 1.56  sienna 3.12
//
//	white 17.94 ml, blue 7.80 ml, yellow 2.34 ml, sienna 3.12 ml: together 31.2 ml
//
// A tube gives up 95 % of what it holds, so a 20 ml tube of white is good for
// 19 ml: one is enough. Four 20 ml tubes, of densities 2.1, 1.4, 1.2 and 1.5
// g/ml with 7 g of tube and cap each, weigh 42 + 28 + 24 + 30 + 28 = 152 g.
package packing
