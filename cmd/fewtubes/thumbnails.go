package main

import (
	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/sheet"
	"fewtubes/cmd/fewtubes/internal/values"
)

// thumbnails are the photographs of the scene that colours were picked from, with
// their marks, and the values of the one with most of them; none where no
// photograph can be read.
func (q *question) thumbnails() ([]sheet.Thumbnail, *values.Grey) {
	return sheet.Thumbnails(&q.scene, func(i int) (*photo.Picture, error) { return photo.Open(q.photo(i), sheet.ThumbnailSize) })
}

// photo is the path of a photograph of the scene.
func (q *question) photo(i int) string { return besideScene(q.from.scene, q.scene.Photos[i].File) }
