// Package page serves the whole job as a page on the painter's own machine:
// photographs in, colours picked, limits set, a palette out.
//
// Everything comes from the one binary. The page keeps its scene in its own
// address, so reload and back work and two tabs never meet; the server holds
// only the photographs dropped on it, in memory, and the cuts already found.
// Every handler is thin over the calls the commands make.
package page
