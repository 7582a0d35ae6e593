// Package sample finds the colours a painter would mix for a photograph: few
// enough to lay out, each standing for an area of the picture, small accents
// included.
package sample
