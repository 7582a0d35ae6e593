package photo

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"

	"fewtubes/cmd/fewtubes/internal/infile"

	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"
)

// Open reads a photograph and averages it down until its longer side is at most
// longest pixels (0: as it is); smaller pictures stay as they are. A file that
// cannot be read gives an *fs.PathError, one that is no picture this program
// can use an *Error.
func Open(path string, longest int) (*Picture, error) {
	data, err := readFile(path)
	if err != nil {
		return nil, err
	}
	return Decode(path, data, longest)
}

// readFile is the bytes of a file that may be a picture.
func readFile(path string) ([]byte, error) {
	data, err := infile.ReadIf(path, MostBytes, func(head []byte) error {
		if formatOf(head) == nil {
			return noPicture(path)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	if len(data) > MostBytes {
		return nil, &Error{File: path, Msg: fmt.Sprintf("over %d MB is too large", MostBytes>>20), Remedy: "export it smaller"}
	}
	return data, nil
}

// Decode is Open for a file already in memory; name stands in the errors. The
// size in the header is checked before anything is decoded.
func Decode(name string, data []byte, longest int) (*Picture, error) {
	return DecodeContext(context.Background(), name, data, longest)
}

// DecodeContext is Decode that gives up with the context's error when that
// ends. A HEIC file is decoded in one go all the same.
func DecodeContext(ctx context.Context, name string, data []byte, longest int) (*Picture, error) {
	w, err := decodeWhole(ctx, name, data)
	if err != nil {
		return nil, err
	}
	return w.Averaged(ctx, longest)
}

// decodeWhole decodes a file; its light is not made ready yet.
func decodeWhole(ctx context.Context, name string, data []byte) (w *Whole, err error) {
	defer func() {
		if recover() != nil { // a damaged file can trip a decoder
			w, err = nil, damaged(name, errTripped)
		}
	}()
	f := formatOf(data)
	if f == nil {
		return nil, noPicture(name)
	}
	size, err := f.config(data)
	if err != nil {
		return nil, undecoded(name, f, data, err)
	}
	if err := checkBulk(name, size.Width, size.Height, f.held(data), len(data)); err != nil {
		return nil, err
	}
	if f.name == "jpeg" && passesJPEG(data) > mostPasses {
		return nil, &Error{File: name, Msg: fmt.Sprintf("its picture is coded in over %d passes", mostPasses), Remedy: "save it anew from an image editor"}
	}
	img, err := f.decode(&watched{ctx, data, 0})
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if errors.Is(err, errNarrow) {
		return nil, &Error{File: name, Msg: err.Error(), Remedy: "save it as PNG"}
	}
	if err != nil {
		return nil, undecoded(name, f, data, err)
	}
	return newWhole(name, f.name, img, f.metadata(data))
}

// format is a kind of file, told by its first bytes whatever it is called.
type format struct {
	name     string
	is       func(data []byte) bool
	config   func(data []byte) (image.Config, error)
	held     func(data []byte) int // bytes for a pixel while it is decoded, at most
	decode   func(*watched) (image.Image, error)
	metadata func(data []byte) metadata
}

var formats = []format{
	{"jpeg", starts("\xff\xd8"), config(jpeg.DecodeConfig), heldJPEG, decode(jpeg.Decode), readMetadata(blocksJPEG)},
	{"png", starts("\x89PNG\r\n\x1a\n"), config(png.DecodeConfig), heldPNG, decode(png.Decode), readMetadata(blocksPNG)},
	{"webp", isWebP, config(webp.DecodeConfig), heldWebP, decodeWebP, readMetadata(blocksWebP)},
	{"tiff", starts("II*\x00", "MM\x00*"), config(tiff.DecodeConfig), heldTIFF, decode(tiff.Decode), readMetadata(blocksTIFF)},
	{"heic", isHEIC, configHEIC, heldHEIC, decodeHEIC, metadataHEIC},
}

func formatOf(data []byte) *format {
	for i := range formats {
		if formats[i].is(data) {
			return &formats[i]
		}
	}
	return nil
}

func starts(magic ...string) func([]byte) bool {
	return func(data []byte) bool {
		for _, m := range magic {
			if bytes.HasPrefix(data, []byte(m)) {
				return true
			}
		}
		return false
	}
}

func isWebP(data []byte) bool {
	return len(data) >= 12 && string(data[:4]) == "RIFF" && string(data[8:12]) == "WEBP"
}

func config(read func(io.Reader) (image.Config, error)) func([]byte) (image.Config, error) {
	return func(data []byte) (image.Config, error) { return read(bytes.NewReader(data)) }
}

func decode(read func(io.Reader) (image.Image, error)) func(*watched) (image.Image, error) {
	return func(r *watched) (image.Image, error) { return read(r) }
}

// watched reads a file until the context ends.
type watched struct {
	ctx  context.Context
	data []byte
	at   int64
}

func (r *watched) Read(p []byte) (int, error) {
	n, err := r.ReadAt(p, r.at)
	r.at += int64(n)
	if n > 0 && errors.Is(err, io.EOF) {
		err = nil
	}
	return n, err
}

// ReadAt spares TIFF a copy of the file.
func (r *watched) ReadAt(p []byte, off int64) (int, error) {
	if err := r.ctx.Err(); err != nil {
		return 0, err
	}
	return bytes.NewReader(r.data).ReadAt(p, off)
}

// decodeWebP undoes the coding of lossy WebP, which is that of video (BT.601,
// 16..235) and not that of JPEG as the decoder's type would have it (RFC 9649,
// section 2.5; RFC 6386, section 9.2).
func decodeWebP(r *watched) (image.Image, error) {
	img, err := webp.Decode(r)
	if err != nil {
		return nil, err
	}
	return fromVideo(img, bt601, false), nil
}
