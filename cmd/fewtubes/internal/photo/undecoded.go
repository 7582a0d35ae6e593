package photo

import (
	"errors"
	"image/jpeg"
	"image/png"
	"io"

	"fewtubes/cmd/fewtubes/internal/plain"

	"golang.org/x/image/tiff"
)

func noPicture(name string) error {
	return &Error{File: name, Msg: "this is no picture that can be read here", Remedy: "give a JPEG, PNG, WebP, TIFF or HEIC file"}
}

// undecoded says what a file is that its decoder would not take: one of a kind
// that cannot be read here, or damaged.
func undecoded(name string, f *format, data []byte, err error) error {
	switch {
	case f.name == "webp" && isAnimated(data):
		return &Error{File: name, Msg: "this is an animation, and cannot be read here", Remedy: "save one picture of it as PNG or JPEG"}
	case f.name == "tiff" && isCMYK(data):
		return &Error{File: name, Msg: "its colours are those of a printing press (CMYK), and cannot be read here", Remedy: "save it in RGB colours"}
	case errors.As(err, new(tiff.UnsupportedError)), errors.As(err, new(jpeg.UnsupportedError)), errors.As(err, new(png.UnsupportedError)):
		return &Error{File: name, Msg: "it is coded in a way that cannot be read here", Remedy: "save it as PNG or as a plain JPEG", Err: inWords(err)}
	}
	return damaged(name, err)
}

var errTripped = errors.New("its decoder gave up")

func damaged(name string, err error) error {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		err = errors.New("it ends too early")
	}
	return &Error{File: name, Msg: "the picture is damaged or cut short", Remedy: "copy it again or save it anew from an image editor", Err: inWords(err)}
}

// inWords keeps the inside of a decoder, which is of no use to anybody, out of
// what is said.
func inWords(err error) error {
	if long := err.Error(); len(long) > 100 || !plain.Line(long) {
		return errTripped
	}
	return err
}

// isAnimated reads the flag of a WebP file (RFC 9649, section 2.7.1).
func isAnimated(data []byte) (animated bool) {
	const animation = 1 << 1
	eachChunk(data, func(kind string, body []byte) {
		animated = animated || kind == "VP8X" && len(body) > 0 && body[0]&animation != 0
	})
	return animated
}

// isCMYK reads how the colours of a TIFF file are parted (TIFF 6.0, section 16).
func isCMYK(data []byte) bool {
	const separated = 5
	d, err := openDirectory(data)
	if err != nil {
		return false
	}
	v, _ := d.number(tagColours)
	return v == separated
}
