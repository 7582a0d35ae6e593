// Command release makes the archives that others install: for each system a folder
// with the program, its manual page, completions and notices, and beside it a bill
// of materials; and the checksums of all.
//
//	go run ./cmd/fewtubes/internal/release -o FOLDER   builds the last commit
//	go run ./cmd/fewtubes/internal/release -notices    writes the notices anew
//
// Both run in the folder of go.mod. The same commit, built by the same version of
// Go, gives the same bytes in every folder and at every time.
package main
