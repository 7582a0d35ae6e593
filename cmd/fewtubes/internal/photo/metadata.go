package photo

import (
	"bytes"
	"fmt"

	"github.com/kovidgoyal/imaging/prism/meta"
	"github.com/kovidgoyal/imaging/prism/meta/autometa"
	"github.com/rwcarlsen/goexif/exif"
	exiftiff "github.com/rwcarlsen/goexif/tiff"
)

// metadata is what a file says about how its pixels are to be seen.
type metadata struct {
	orientation int    // EXIF 1..8; 0: none given
	profile     []byte // ICC profile; nil: sRGB
	points      meta.CodingIndependentCodePoints
	notes       []string
}

// readMetadata reads orientation and profile. What cannot be read is noted and
// left aside: the picture itself may be sound.
func readMetadata(data []byte) (m metadata) {
	defer func() {
		if r := recover(); r != nil { // damaged metadata can trip its readers
			m = metadata{notes: []string{"its metadata cannot be read: taken as upright and sRGB"}}
		}
	}()
	md, _, err := autometa.Load(bytes.NewReader(data))
	if err != nil || md == nil {
		m.notes = append(m.notes, "its metadata cannot be read: taken as upright and sRGB")
		return m
	}
	m.points = md.CICP
	if m.profile, err = md.ICCProfileData(); err != nil {
		m.profile = nil
		m.notes = append(m.notes, noProfile)
	}
	m.readEXIF(md)
	return m
}

const (
	noProfile = "its colour profile cannot be read: taken as sRGB"
	noEXIF    = "its EXIF data cannot be read: taken as upright"
)

// tagProfile is the TIFF tag that holds an ICC profile (ICC.1:2022, annex B.4).
const tagProfile = 34675

func (m *metadata) readEXIF(md *meta.Data) {
	x, err := md.Exif()
	if err != nil {
		m.notes = append(m.notes, noEXIF)
	}
	if x == nil {
		return
	}
	if tag, err := x.Get(exif.Orientation); err == nil && tag.Format() == exiftiff.IntVal {
		if v, err := tag.Int(0); err == nil && v >= 1 && v <= 8 {
			m.orientation = v
		} else {
			m.notes = append(m.notes, fmt.Sprintf("its EXIF orientation %d is none: taken as upright", v))
		}
	}
	if m.profile == nil && x.Tiff != nil && len(x.Tiff.Dirs) > 0 {
		for _, tag := range x.Tiff.Dirs[0].Tags {
			if tag.Id == tagProfile {
				m.profile = tag.Val
			}
		}
	}
}
