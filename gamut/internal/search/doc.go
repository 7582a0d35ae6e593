// Package search finds the mix of some paints nearest to a colour, in CIEDE2000.
//
// A start is a pair of paints from the bank (bank.go); the amounts descend to the
// target (descent.go), other paints enter where they would pull it nearer
// (support.go), and when the starts agree, paints left out are kicked in to see
// whether that was all (kick.go). Far off, where CIEDE2000 has edges and minima of
// its own, a few more starts go by way of the greys (edge.go, detour.go). Whole
// parts are divided by the same model (divider.go). How seldom a search ends beside
// the nearest mix is measured against an exhaustive one in reference_test.go, and
// its verdicts at the edge of reach in verdicts_test.go. Its time goes in the loops
// over bands (bandloops.go), which processors with four lanes run in assembly.
//
// Amounts are scaled by the mean K+S of a paint; shares and parts are volumes.
// Words used: a support is the set of paints in a mix, a seed a mix to start from,
// squared a squared CIEDE2000.
package search
