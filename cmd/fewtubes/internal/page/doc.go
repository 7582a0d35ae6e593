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
// The scripts draw from one store and send it named acts (static/store.js); a place
// beside the picture is a module of its own (static/places.js). An answer comes as
// fields for drawing (report.Plan), and as a whole report for who asks why.
package page
