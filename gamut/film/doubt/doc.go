// Package doubt says how far a tube in a painter's box may lie from the tube of the
// same pigment that stands in a catalogue, and draws such tubes.
//
// A draw multiplies K and S, band by band:
//
//	ln K' = ln K + g + r(λ)
//	ln S' = ln S + g + l + s(λ)
//
// g is strength: more or less pigment in the tube. l is scattering: grind and grade.
// r and s are the shapes of the two spectra, each a sum of five Gaussians 60 nm
// wide whose middles divide 400-700 nm evenly. All twelve terms are independent and
// normal about zero, so one Spread, four standard deviations, describes them. The
// terms serve as the unknowns of a fit as well: a Spread is then the prior.
//
// Draws are the same on every processor: they use no function of package math whose
// last bit depends on it. They are seeded by the tube's id and the number of the
// draw, so that adding a tube changes no other.
package doubt
