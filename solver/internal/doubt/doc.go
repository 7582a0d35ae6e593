// Package doubt asks what becomes of palettes in plausible boxes: the same tubes as
// they may be from other makers. It counts the boxes in which a palette holds, and
// chooses palettes by that number.
//
// Its words:
//
//   - box: a draw of every tube, by its number from 1 on
//   - to hold: to reach, remixed freely in the tubes of a box, what is judged
//   - judged: the targets that count, those within reach of the tubes as they stand
//   - share: in how many boxes of how many a palette holds
package doubt
