// Package grid knows the nearest mixes of all the colours of a picture: mixes are
// sought at the corners of cells of CIELAB, where the picture has colours alone,
// and what lies between is interpolated over tetrahedra (Kasson, Nin, Plouffe and
// Hafner, J. Electron. Imaging 4:226-250, 1995). A cell whose middle is off is
// divided. MIXING.md of the folder above says how far the answers are from a search
// for each colour.
package grid
