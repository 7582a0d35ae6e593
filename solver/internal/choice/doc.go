// Package choice chooses palettes over indices: it asks a cover for a palette, asks
// what is known of every target whether the palette reaches it, gives the cover
// the cuts that explain a miss, and asks again, until nothing is missed. From that
// it makes lists, favourites, the least miss where limits forbid more, and the
// needs that prove a minimum.
//
// Its words:
//
//   - stakes: what every choice is about, tubes and targets by index
//   - core: what is known of every target in the course of a choice
//   - wish: limits, prices and an order to choose by; decision: what is chosen
//   - ground: what is known after the question without limits, from which every
//     choice starts
//   - hunt: one run of proposals and cuts; demand: targets to reach in it
//   - need: a cut in the proof of a minimum
//   - sighting: the bound and the best palette seen while a hunt runs
package choice
