// Package report turns answers about palettes into terminal text, a printable page
// and JSON; packages tubelist, piles and curves do so for the other answers.
//
// An answer first becomes a document: plain structs whose numbers are already
// rounded to the digits that are shown. Text, page and JSON all print the
// document, so a number is the same wherever it is met. The JSON documents are
// described in schema.md.
package report
