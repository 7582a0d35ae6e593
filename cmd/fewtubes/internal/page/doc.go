// Package page serves the whole job as a page on the painter's own machine:
// photographs in, colours picked, limits set, a palette out.
//
// Everything comes from the one binary. The page keeps its scene in its own
// address, so reload and back work and two tabs never meet; the server holds
// only the photographs dropped on it, in memory, and the cuts already found.
// Every handler is thin over the calls the commands make.
//
// A photograph is decoded whole and averaged in linear light, never in coded values.
// The scripts draw a part again only when what it shows has changed, and send the
// question before they draw. An answer comes as HTML and is put in its place.
package page
