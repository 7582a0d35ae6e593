// Package sheet draws the printed sheets: the practice chart of a palette and
// the class handout of a scene.
//
// A sheet is first worked out as plain values (which mixes, their colours and
// labels) and then drawn as a vector PDF of exact size. The same sheet gives
// the same bytes.
package sheet
