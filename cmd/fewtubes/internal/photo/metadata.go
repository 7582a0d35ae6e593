package photo

import (
	"fmt"

	"github.com/kovidgoyal/imaging/prism/meta"
)

// metadata is what a file says about how its pixels are to be seen.
type metadata struct {
	orientation int    // EXIF 1..8; 0: none given
	profile     []byte // ICC profile; nil: sRGB
	points      meta.CodingIndependentCodePoints
	notes       []string
}

const (
	noProfile     = "its colour profile cannot be read: taken as sRGB"
	noColourSpace = "its colour space is not known here: taken as sRGB"
	noEXIF        = "its EXIF data cannot be read: taken as upright"
)

// readMetadata makes sense of the blocks. What cannot be read is noted and left
// aside: the picture itself may be sound.
func readMetadata(find func([]byte) blocks) func([]byte) metadata {
	return func(data []byte) (m metadata) {
		b := find(data)
		m.profile = b.profile
		if b.err != nil {
			m.profile = nil
			m.notes = append(m.notes, noProfile)
		}
		if len(b.exif) > 0 {
			m.readEXIF(b.exif)
		}
		return m
	}
}

func (m *metadata) readEXIF(exif []byte) {
	d, err := openDirectory(exif)
	if err != nil {
		m.notes = append(m.notes, noEXIF)
		return
	}
	v, given := d.number(tagOrientation)
	switch {
	case given && v >= 1 && v <= 8:
		m.orientation = int(v)
	case given:
		m.notes = append(m.notes, fmt.Sprintf("its EXIF orientation %d is none: taken as upright", v))
	}
}
