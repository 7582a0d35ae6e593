package photo

import (
	"fmt"
)

const (
	// MostPixels is more than any camera gives and what fits in memory.
	MostPixels = 200_000_000
	// MostBytes is the largest file that is read.
	MostBytes = 512 << 20
	// MostSide is the longest side that JPEG can hold, pixels.
	MostSide = 65535

	// mostHeld is what decoding may hold of any file, bytes, and mostUnfold what
	// it may hold for each byte of a larger one. The 12 million pixels of a phone
	// are read from a file of any size; a photograph of more fills a byte with 4
	// pixels or fewer, and 12 are let pass.
	mostHeld   = 192 << 20
	mostUnfold = 192
	leastHeld  = 16 // bytes counted for a pixel, so that time is bounded as well

	// mostPasses is how often a JPEG may go through its components in all; common
	// practice, no source: a progressive photograph does so 12 to 20 times. Each
	// costs time whatever there is in the file for it.
	mostPasses = 60
)

// checkBulk refuses what should not be unfolded: held are the bytes that decoding
// holds for a pixel.
func checkBulk(name string, w, h, held, size int) error {
	if err := checkSize(name, w, h); err != nil {
		return err
	}
	if w*h > max(mostHeld, mostUnfold*size)/max(held, leastHeld) {
		return &Error{File: name, Msg: fmt.Sprintf("%d x %d pixels are too many for a file of only %d bytes", w, h, size), Remedy: "export it smaller, or with less compression"}
	}
	return nil
}

// Bulk is how many bytes decoding a file holds at most, by what its head says; 0
// for what Decode refuses whatever there is to hold it.
func Bulk(data []byte) (bytes int) {
	defer func() {
		if recover() != nil { // a damaged head can trip a decoder
			bytes = 0
		}
	}()
	f := formatOf(data)
	if f == nil {
		return 0
	}
	size, err := f.config(data)
	if err != nil || checkSize("", size.Width, size.Height) != nil {
		return 0
	}
	return size.Width * size.Height * f.held(data)
}

func checkSize(name string, w, h int) error {
	switch {
	case w <= 0 || h <= 0:
		return &Error{File: name, Msg: "the picture has no pixels", Remedy: "save it anew from an image editor"}
	case w > MostPixels/h:
		return &Error{File: name, Msg: fmt.Sprintf("%d x %d pixels are more than the %d million that can be read", w, h, MostPixels/1_000_000), Remedy: "export it smaller"}
	case max(w, h) > MostSide:
		return &Error{File: name, Msg: fmt.Sprintf("a side of %d pixels is longer than the %d that can be read", max(w, h), MostSide), Remedy: "export it smaller"}
	}
	return nil
}

// heldJPEG counts the samples of a pixel, and for a progressive picture their
// coefficients of 4 bytes, which are all kept (ITU-T T.81, sections B.2.2, G.1).
func heldJPEG(data []byte) (held int) {
	const progressive = 0xc2
	eachSegment(data, func(marker byte, body []byte) {
		isFrame := marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc
		if !isFrame || len(body) < 6 {
			return
		}
		held = samples(body)
		if marker == progressive {
			held *= 5
		}
		if body[5] != 3 { // turned from CMYK
			held += 4
		}
	})
	return held
}

// passesJPEG counts how often a component is gone through: once for each scan it
// is part of (ITU-T T.81, section B.2.3).
func passesJPEG(data []byte) (passes int) {
	eachSegment(data, func(marker byte, body []byte) {
		if marker == startOfScan && len(body) > 0 {
			passes += int(body[0])
		}
	})
	return passes
}

// samples are those of a pixel in a frame header, rounded up: 3 without
// subsampling, 2 with.
func samples(frame []byte) int {
	most, sum := 1, 0
	for c := frame[6:]; len(c) >= 3; c = c[3:] {
		area := int(c[1]>>4) * int(c[1]&15)
		most, sum = max(most, area), sum+area
	}
	return (sum + most - 1) / most
}

// heldPNG: 16 bits a channel hold twice as much, and so do the passes of an
// interlaced picture beside the whole.
func heldPNG(data []byte) int {
	held := 4
	if len(data) >= 29 && data[24] == 16 {
		held *= 2
	}
	if len(data) >= 29 && data[28] == 1 {
		held *= 2
	}
	return held
}

func heldWebP([]byte) int { return 12 }

// heldTIFF counts the picture of up to 8 bytes a pixel and, where it is packed,
// a buffer that grows to as much by doubling; tiles may reach far beyond the
// picture's edges.
func heldTIFF(data []byte) int {
	const unpacked = 1
	d, err := openDirectory(data)
	if err != nil {
		return 0
	}
	packing, _ := d.number(tagCompression)
	if packing <= unpacked {
		return leastHeld
	}
	return 32 * d.tiled()
}

// tiled is by how many times the tiles are larger than the picture, rounded up.
func (d directory) tiled() int {
	at := func(tag uint16) uint64 { v, _ := d.number(tag); return uint64(v) }
	w, h, tw, th := at(tagWidth), at(tagLength), at(tagTileWidth), at(tagTileLength)
	const most = 1 << 20 // a tile that large is refused by the decoder
	if w == 0 || h == 0 || tw == 0 || th == 0 || max(tw, th) > most || max(w, h) > MostSide {
		return 1
	}
	all := (w + tw - 1) / tw * tw * ((h + th - 1) / th * th)
	return int((all + w*h - 1) / (w * h))
}
