// Package check verifies certificates that no mixture of some paints comes
// within a tolerance of a colour. It knows nothing of how they were found, and shares no arithmetic with what found them.
//
// # What is claimed
//
// For amounts c >= 0 of the paints, not all zero, let K and S be the amounts
// times the paints' K and S in one band, q = K/S, r the internal reflectance
// with q = (1-r)^2/(2r) (Kubelka and Munk) and R the reflectance factor seen
// through the surface (Saunderson). The claim is that no c has a colour within
// CIEDE2000 <= tolerance of the target under the light.
//
// # How it is proved
//
// All conditions are linear in c and have no constant term, so only the signs
// of their coefficients, paint by paint, matter. N is a positive linear form
// that every cell uses as its unit of amount (the norms of the paints).
//
//   - Faces are half-spaces of tristimulus space that hold every colour within
//     the tolerance: proved by halving boxes of colours, in interval arithmetic of
//     its own, with elementary functions worked out from sums, products, quotients
//     and checked square roots. The search has another, package tolerance.
//   - A cell limits r and S/N in every band: r <= v is (1-v)^2 S - 2vK <= 0 and
//     so on. All of these are rows: forms that are >= 0 for the mixes of a cell.
//   - A move tightens one limit. It is proved by multipliers m >= 0 of known
//     rows: new row - sum m row has no negative coefficient.
//   - A cut is a face with every R replaced by a bound that is linear in K and S:
//     R is convex in q, so a tangent lies under it and a chord over it; and with
//     q within its limits and S/N within its limits, q - q0 = (K - q0 S)/S lies
//     on one side of (K - q0 S)/(s N), s a limit of S/N, where q0 is a limit of q.
//   - A split replaces a cell by two that share a limit.
//   - An empty cell is proved by multipliers m >= 0: all coefficients of
//     sum m row are negative, so no c fits.
//
// A certificate is complete when every cell is empty. All of this but the faces
// is decided in rational arithmetic; intervals of float64 only save time. Rows are
// added as linear forms of K, S and N, and looked at paint by paint at the end.
//
// A file may be a stranger's: Verify takes it line by line, with bounds on what a
// cell may hold and on the work of the whole, counted by operations.
//
// # File
//
// A certificate is a text, one statement a line, words parted by single
// spaces; numbers are decimal and name one float64 each, 0 or of a size from 1e-60
// to 1e60. Lines, in order:
//
//	certificate unreachable 2
//	surface K1 K2
//	light NAME
//	target L a b
//	tolerance T
//	paint NORM K*36 S*36         one per paint
//	face X Y Z HEIGHT            one per face
//	move LIMIT BAND VALUE TERM*  LIMIT: r< r> s< s>
//	cut FACE PLANE*36            PLANE: l or h, the limit of q it is hinged at,
//	                             and under R where it touches, as in l.213
//	split LIMIT BAND VALUE       LIMIT: r< or s<; that cell comes first, then the other
//	empty TERM*
//	end
//
// A TERM is ROW*MULTIPLIER, ROW being a LIMIT with its band (r<12) or cut with
// its number since the cell began (cut0). Bands count from 0 (380 nm).
package check
