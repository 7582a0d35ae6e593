// Package testdata holds the demo, a salt marsh at ebb tide, for the page that
// offers it.
package testdata

import "embed"

// SaltMarsh is its scene.
//
//go:embed salt-marsh.toml
var SaltMarsh []byte

// Pictures are those the scene names.
//
//go:embed salt-marsh/wide.jpg salt-marsh/close.jpg
var Pictures embed.FS
