// Package air is what the air does to a colour seen through it.
//
// Band by band, light from a surface fades on its way and light that the air
// scatters into the way is added (H. Koschmieder, Beitr. Phys. freien Atmos.
// 12:33-53 and 171-181, 1924):
//
//	C(d) = C(0) T + A (1 - T),  T = exp(-b d)
//
// A is the airlight: what an endless way shows, as at the horizon. The
// extinction b is that of molecules, as the fourth power of the wavelength falls
// (Rayleigh), and of particles, by a power that the painter may choose. The
// visual range V, at which a black surface stands out by 2 %, sets their sum at
// 550 nm: b = 3.912 / V (W. E. K. Middleton, Vision Through the Atmosphere, 1952).
//
// Measured so, what is far turns towards the airlight, mostly blue. The eye parts
// the haze from what lies behind: as seen, hue holds while colourfulness falls
// (R. C. Henry, S. Mahadev, S. Urquijo, D. Chitwood, J. Opt. Soc. Am. A
// 17:831-835, 2000; on the reading as measured: D. K. Lynch, S. Mazuk, Appl. Opt.
// 44:5737-5745, 2005; years and journals as the trade cites them, pages from memory).
package air
