package repaint

import (
	"bytes"
	"context"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/jpeg"
	"image/png"
	"slices"
)

// PNG and JPEG are a picture as a file that says that it is sRGB, or the context's
// error.
func PNG(ctx context.Context, img image.Image) ([]byte, error) {
	const head = 8 + 4 + 4 + 13 + 4 // signature and IHDR
	chunk := []byte("sRGB\x00")     // PNG third edition, section 11.3.2.5: perceptual
	tag := binary.BigEndian.AppendUint32(nil, uint32(len(chunk)-4))
	tag = append(tag, chunk...)
	tag = binary.BigEndian.AppendUint32(tag, crc32.ChecksumIEEE(chunk))
	return encoded(ctx, head, tag, func(b *bytes.Buffer) error {
		return (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(b, img)
	})
}

// quality is that of JPEG at which its blocks do not show.
const quality = 92

// JPEG is as PNG; a side of more than 65535 pixels is an error.
func JPEG(ctx context.Context, img image.Image) ([]byte, error) {
	const start = 2 // of image
	return encoded(ctx, start, []byte(exifSRGB), func(b *bytes.Buffer) error {
		return jpeg.Encode(b, img, &jpeg.Options{Quality: quality})
	})
}

// exifSRGB is an APP1 segment that holds the tag ColorSpace, 1 for sRGB (CIPA
// DC-008, section 4.6.6): a directory that leads to another, which has it.
const exifSRGB = "\xff\xe1\x00\x34Exif\x00\x00" +
	"MM\x00\x2a\x00\x00\x00\x08" +
	"\x00\x01" + "\x87\x69\x00\x04\x00\x00\x00\x01\x00\x00\x00\x1a" + "\x00\x00\x00\x00" +
	"\x00\x01" + "\xa0\x01\x00\x03\x00\x00\x00\x01\x00\x01\x00\x00" + "\x00\x00\x00\x00"

// encoded puts a tag into a file. An encoder does not stop before it is done: once the
// context has ended it is not waited for.
func encoded(ctx context.Context, at int, tag []byte, encode func(*bytes.Buffer) error) ([]byte, error) {
	var b bytes.Buffer
	done := make(chan error, 1)
	go func() { done <- encode(&b) }()
	select {
	case <-ctx.Done():
		return nil, ctx.Err()
	case err := <-done:
		if err != nil {
			return nil, err
		}
	}
	return slices.Insert(b.Bytes(), at, tag...), nil
}
