// Package cover chooses members so that every cut is hit: some sets of members,
// of each of which at least one has to be chosen, are given one after another,
// and under rules and weights it is asked for a palette that hits all of them, or
// for the cuts and limits that rule every palette out. It knows nothing of what
// the members are, or where the cuts come from.
//
// Its words:
//
//   - member: what is chosen, by its index, 0 to n-1
//   - palette: a set of members
//   - cut: a set of members, one of which has to be in the palette
//   - cause: what a cut is there for, by its index; a cause that may be waived
//     leaves its cuts unhit, at a weight
//   - switch: cuts and blocked palettes under it count only in questions that name it
//   - rules: limits that hold for every question; question: what bounds one palette
//   - engine: what answers questions; there are two, a quick search of our own
//     (pick.go) and a SAT solver (prove.go), whose "no" is the proof of every minimum
package cover
