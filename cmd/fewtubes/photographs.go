package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"fewtubes/cmd/fewtubes/internal/scene"

	"github.com/urfave/cli/v2"
)

// photographsOf are the photographs that sample is asked about: named each with its
// planes, as in wide.jpg:sky=0:0.3,distance=0.3:0.5, or by a scene file that names
// them. from is that scene; empty without one. File is the path from here.
func photographsOf(c *cli.Context) (photos []scene.Photo, from scene.Scene, err error) {
	for _, arg := range c.Args().Slice() {
		if isScene(arg) {
			s, err := scene.Read(arg)
			if err != nil {
				return nil, from, err
			}
			if c.NArg() > 1 {
				return nil, from, userError("sample: a scene file with photographs stands alone; name %s and nothing else, or the photographs", arg)
			}
			if len(s.Photos) == 0 {
				return nil, from, userError("%s names no photograph to sample; name one as in fewtubes sample photo.jpg", arg)
			}
			for _, p := range s.Photos {
				p.File = besideScene(arg, p.File)
				photos = append(photos, p)
			}
			return photos, s, crops(c, photos)
		}
		p, err := photographOf(arg)
		if err != nil {
			return nil, from, err
		}
		for _, q := range photos {
			if sameFile(p.File, q.File) {
				return nil, from, userError("sample: %s is named twice; name it once, with all of its planes", p.File)
			}
		}
		photos = append(photos, p)
	}
	if len(photos) == 0 {
		return nil, from, userError("sample: no photograph is given; name one as in fewtubes sample photo.jpg -o scene.toml")
	}
	taken := map[string]bool{}
	for i := range photos {
		photos[i].Name = photoName(photos[i].File, taken)
	}
	return photos, from, crops(c, photos)
}

var withPlanes = regexp.MustCompile(`^(.+?):\s*([A-Za-z]+\s*=.*)$`)

// photographOf reads a photograph and its planes. What is there under the whole
// name is a photograph without.
func photographOf(arg string) (p scene.Photo, err error) {
	m := withPlanes.FindStringSubmatch(arg)
	if _, err := os.Stat(arg); err == nil || m == nil {
		return scene.Photo{File: arg}, nil
	}
	p.File = m[1]
	if p.Planes, err = planeShapes(m[2]); err != nil {
		return p, userError("%s: %w; write it as in %s:sky=0:0.3,distance=0.3:0.5", arg, err, p.File)
	}
	return p, nil
}

var nextPlane = regexp.MustCompile(`,\s*[A-Za-z]+\s*=`)

// planeShapes reads shapes parted by commas, which corners hold, too.
func planeShapes(text string) (out []scene.PlaneShape, err error) {
	for text != "" {
		this, rest := text, ""
		if at := nextPlane.FindStringIndex(text); at != nil {
			this, rest = text[:at[0]], text[at[0]+1:]
		}
		shape, err := scene.ParsePlaneShape(strings.TrimSpace(this))
		if err != nil {
			return nil, err
		}
		out, text = append(out, shape), rest
	}
	return out, nil
}

// besideScene is the path of a photograph that a scene file names.
func besideScene(scene, file string) string {
	if file = filepath.FromSlash(file); filepath.IsAbs(file) {
		return file
	}
	return filepath.Join(filepath.Dir(scene), file)
}

func sameFile(a, b string) bool {
	if filepath.Clean(a) == filepath.Clean(b) {
		return true
	}
	x, err1 := os.Stat(a)
	y, err2 := os.Stat(b)
	return err1 == nil && err2 == nil && os.SameFile(x, y)
}

// crops reads --crop PHOTO=LEFT,TOP,RIGHT,BOTTOM into the photographs.
func crops(c *cli.Context, photos []scene.Photo) error {
	given := map[int]bool{}
	for _, text := range c.StringSlice("crop") {
		at := strings.LastIndex(text, "=")
		name, sides := text[:max(at, 0)], text[at+1:]
		which := -1
		for i := range photos {
			if name == photos[i].Name || sameFile(name, photos[i].File) {
				which = i
			}
		}
		switch {
		case at < 0:
			return userError("--crop %s names no photograph; write it as in --crop detail.jpg=0.1,0.2,0.9,1", text)
		case which < 0:
			return userError("--crop %s: no photograph %s is named; crop one that is sampled", text, name)
		case given[which]:
			return userError("--crop: %s is cropped twice; crop it once", name)
		}
		given[which] = true
		var crop []float64
		for _, side := range strings.Split(sides, ",") {
			v, err := strconv.ParseFloat(strings.TrimSpace(side), 64)
			if err != nil {
				return userError("--crop %s: %q is not a number; write left, top, right and bottom as in detail.jpg=0.1,0.2,0.9,1", text, side)
			}
			crop = append(crop, v)
		}
		if err := scene.CheckCrop(crop); err != nil {
			return userError("--crop %s: %w; write left, top, right and bottom as in detail.jpg=0.1,0.2,0.9,1", text, err)
		}
		photos[which].Crop = crop
	}
	return nil
}
