package photo

import (
	"bytes"
	"errors"
	"image"

	"github.com/gen2brain/heic"
	"github.com/kovidgoyal/imaging/prism/meta"
)

func configHEIC(data []byte) (image.Config, error) {
	info, err := readHEIF(data)
	return image.Config{Width: info.w, Height: info.h}, err
}

// decodeHEIC decodes what phones write. The decoder turns the picture upright
// by its own properties (an EXIF orientation is no more than a copy of them,
// ISO/IEC 23008-12 annex A.2.2) but leaves the colours as they are coded, and
// takes every luma coding for JPEG's.
func decodeHEIC(r *watched) (image.Image, error) {
	data := r.data
	img, err := heic.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, errTripped
	}
	// The decoder mistakes the length of rows when the colour planes, half as
	// wide as the picture, are narrower than 64.
	if img.Bounds().Dx() < 128 {
		return nil, errNarrow
	}
	info, err := readHEIF(data)
	if err != nil || info.nclx == nil {
		return img, err
	}
	l, _ := lumaOf(info.nclx.matrix)
	return fromVideo(img, l, info.nclx.fullRange), nil
}

// errNarrow is no damage: see Decode.
var errNarrow = errors.New("HEIC pictures under 128 pixels wide cannot be read here")

// heldHEIC counts the planes in the decoder, out of it and turned to RGB.
func heldHEIC([]byte) int { return 12 }

func metadataHEIC(data []byte) (m metadata) {
	info, err := readHEIF(data)
	if err != nil {
		return metadata{notes: []string{noProfile}}
	}
	m.profile = info.profile
	if c := info.nclx; c != nil && m.profile == nil {
		m.points = meta.CodingIndependentCodePoints{
			ColorPrimaries: uint8(c.primaries), TransferCharacteristics: uint8(c.transfer), VideoFullRange: 1, IsSet: true,
		}
	}
	return m
}
