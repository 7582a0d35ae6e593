// Package recipe finds mixes that a hand makes: few paints, few parts, a touch
// where less than a part is wanted, and strong tinters let down once for a whole
// palette.
//
// A recipe is measured with a palette knife, in parts of equal volume. Literal
// recipes are in doubt by several units of CIEDE2000, so among those that serve
// the plainest is taken and not the nearest (rule.go). Recipes are counted out:
// every set of up to four ingredients (ingredients.go) in every division into parts
// (division.go) is mixed by the film model once, for all colours together
// (count.go). Which tinters to let down for the whole palette is chosen among all
// sets of piles, by the colours they leave without a let-down of their own
// (prepare.go).
//
// Paints are referred to by their index in the list a Kitchen is made of. Words
// used: a tube is a paint as it comes; a pile is a tube let down in another; an
// ingredient is either.
package recipe
