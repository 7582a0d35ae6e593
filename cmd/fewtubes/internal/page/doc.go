// Package page serves the whole job as a page on the painter's own machine:
// photographs in, colours picked, limits set, a palette out.
//
// Everything comes from the one binary. Scenes, their acts and photographs are kept
// by the room kept: every act is one revision, which other tabs follow, and a tab
// keeps what could not be kept yet. In memory are the photographs used last and the
// cuts already found. Every handler is thin over the calls the commands make. At its
// fixed port the page opens only to the browser of who started the program (lock.go).
//
// A photograph is decoded whole and averaged in linear light, never in coded values.
// The scripts draw a part again only when what it shows has changed, and send the
// question before they draw. An answer comes as HTML and is put in its place.
package page
