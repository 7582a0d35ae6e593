package photo

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"io"
)

// blocks are what a picture file carries beside its pixels, as it stands there.
type blocks struct {
	exif    []byte // a TIFF structure (CIPA DC-008-2012, section 4.5.2); nil: none
	profile []byte // an ICC profile; nil: none
	err     error  // why the profile could not be taken out
}

// mostProfile is several times the largest profile of a press, bytes.
const mostProfile = 16 << 20

var errProfile = errors.New("the colour profile is cut short or too large")

const startOfScan = 0xda

// eachSegment visits the segments of a JPEG, the heads of its scans among them;
// it stops where they no longer fit (ITU-T T.81, section B.1.1). What stands
// between segments is skipped, as the decoder does: coded data, and stray bytes,
// behind which a segment must not hide.
func eachSegment(data []byte, visit func(marker byte, body []byte)) {
	const endOfImage = 0xd9
	for at := 2; at+4 <= len(data); {
		next := bytes.IndexByte(data[at:], 0xff)
		if next < 0 || at+next+4 > len(data) {
			return
		}
		at += next
		marker := data[at+1]
		switch {
		case marker == 0xff: // a fill byte
			at++
			continue
		case marker <= 0x01 || marker >= 0xd0 && marker <= 0xd8: // no segment follows
			at += 2
			continue
		case marker == endOfImage:
			return
		}
		size := int(binary.BigEndian.Uint16(data[at+2:]))
		if size < 2 || at+2+size > len(data) {
			return
		}
		visit(marker, data[at+4:at+2+size])
		at += 2 + size
	}
}

// blocksJPEG takes EXIF from APP1 and the profile from its numbered parts in
// APP2 (ICC.1:2022, annex B.4).
func blocksJPEG(data []byte) (b blocks) {
	const app1, app2 = 0xe1, 0xe2
	parts := map[byte][]byte{}
	count := 0
	eachSegment(data, func(marker byte, body []byte) {
		if rest, ok := bytes.CutPrefix(body, []byte("Exif\x00\x00")); ok && marker == app1 && b.exif == nil {
			b.exif = rest
		}
		rest, ok := bytes.CutPrefix(body, []byte("ICC_PROFILE\x00"))
		if !ok || marker != app2 || len(rest) < 2 {
			return
		}
		if count != 0 && count != int(rest[1]) || parts[rest[0]] != nil || rest[0] == 0 || rest[0] > rest[1] {
			b.err = errProfile
			return
		}
		count, parts[rest[0]] = int(rest[1]), rest[2:]
	})
	if len(parts) != count {
		b.err = errProfile
	}
	for n := 1; n <= count && b.err == nil; n++ {
		b.profile = append(b.profile, parts[byte(n)]...)
	}
	return b
}

// blocksPNG reads the chunks before the picture data (W3C PNG, third edition,
// sections 11.3.2.3 and 11.3.4.6) and those behind it, where eXIf may stand.
func blocksPNG(data []byte) (b blocks) {
	for at := 8; at+12 <= len(data); {
		size := uint64(binary.BigEndian.Uint32(data[at:]))
		if size > uint64(len(data)-at-12) {
			return b
		}
		body := data[at+8 : at+8+int(size)]
		switch string(data[at+4 : at+8]) {
		case "eXIf":
			b.exif = body
		case "IEND":
			return b
		case "iCCP":
			if b.profile != nil || b.err != nil {
				break // a file has one; unpacking more would only take time
			}
			if _, packed, ok := bytes.Cut(body, []byte{0}); ok && len(packed) > 0 && packed[0] == 0 {
				b.profile, b.err = inflate(packed[1:])
			} else {
				b.err = errProfile
			}
		}
		at += 12 + int(size)
	}
	return b
}

// inflate unpacks a profile, and no more than a profile.
func inflate(packed []byte) ([]byte, error) {
	r, err := zlib.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	out, err := io.ReadAll(io.LimitReader(r, mostProfile+1))
	if err == nil && len(out) > mostProfile {
		return nil, errProfile
	}
	return out, err
}

// eachChunk visits the chunks of a WebP file (RFC 9649, section 2.3).
func eachChunk(data []byte, visit func(kind string, body []byte)) {
	for at := 12; at+8 <= len(data); {
		size := uint64(binary.LittleEndian.Uint32(data[at+4:]))
		if size > uint64(len(data)-at-8) {
			return
		}
		visit(string(data[at:at+4]), data[at+8:at+8+int(size)])
		at += 8 + int(size+size%2)
	}
}

func blocksWebP(data []byte) (b blocks) {
	eachChunk(data, func(kind string, body []byte) {
		switch kind {
		case "ICCP":
			b.profile = body
		case "EXIF":
			b.exif = bytes.TrimPrefix(body, []byte("Exif\x00\x00")) // some writers copy it from JPEG
		}
	})
	return b
}

// blocksTIFF: such a file is a structure of the kind EXIF uses.
func blocksTIFF(data []byte) (b blocks) {
	b.exif = data
	if d, err := openDirectory(data); err == nil {
		if _, value := d.find(tagProfile); len(value) > 0 {
			b.profile = value
		}
	}
	return b
}
