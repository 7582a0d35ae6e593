// Package lessons answers what a painter asks about a palette that is there: why each
// tube, what could stand in for it, what one tube more or less would do, and how
// tight a tolerance each number of tubes can hold. Everything goes by index; words
// and ids are the door's.
//
// Its words:
//
//   - standing: how the targets stand to a palette
//   - judged: the targets that palettes are judged by, those not beyond all tubes
//   - loss: a target no longer reached without a tube; gain: one that comes nearer
//   - stand-in: a tube in place of another with which nothing is lost
//   - burden: what it costs to add a tube, flaws beyond any price
package lessons
