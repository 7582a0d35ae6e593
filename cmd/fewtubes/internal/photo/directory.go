package photo

import (
	"encoding/binary"
	"errors"
)

// directory is the first directory of a TIFF structure (TIFF 6.0, section 2),
// which EXIF shares. Further directories are not followed: nothing that is
// needed here stands there, and a chain of them may lead round in a circle.
type directory struct {
	data  []byte // the whole structure
	order binary.ByteOrder
	tags  []byte // 12 bytes each
}

// Tags of TIFF 6.0, CIPA DC-008-2012 and ICC.1:2022 annex B.5.
const (
	tagWidth       = 256
	tagLength      = 257
	tagCompression = 259
	tagColours     = 262
	tagOrientation = 274
	tagRowsInStrip = 278
	tagTileWidth   = 322
	tagTileLength  = 323
	tagProfile     = 34675
)

var errDirectory = errors.New("its directory does not fit in it")

func openDirectory(data []byte) (d directory, err error) {
	if len(data) < 8 {
		return d, errDirectory
	}
	switch string(data[:4]) {
	case "II*\x00":
		d.order = binary.LittleEndian
	case "MM\x00*":
		d.order = binary.BigEndian
	default:
		return d, errDirectory
	}
	at := uint64(d.order.Uint32(data[4:]))
	if at+2 > uint64(len(data)) {
		return d, errDirectory
	}
	size := 12 * uint64(d.order.Uint16(data[at:]))
	if at+2+size > uint64(len(data)) {
		return d, errDirectory
	}
	d.data, d.tags = data, data[at+2:at+2+size]
	return d, nil
}

// widths are the bytes of a value of each kind, 1 byte to 12 double.
var widths = [13]uint64{1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8}

// find is a tag's kind and its values as they stand; nil where it is not there
// or lies outside.
func (d directory) find(tag uint16) (kind uint16, value []byte) {
	for t := d.tags; len(t) > 0; t = t[12:] {
		if d.order.Uint16(t) != tag {
			continue
		}
		kind = d.order.Uint16(t[2:])
		if kind >= uint16(len(widths)) {
			return kind, nil
		}
		size := widths[kind] * uint64(d.order.Uint32(t[4:]))
		if size <= 4 {
			return kind, t[8 : 8+size]
		}
		at := uint64(d.order.Uint32(t[8:]))
		if at+size > uint64(len(d.data)) {
			return kind, nil
		}
		return kind, d.data[at : at+size]
	}
	return 0, nil
}

// number is the first value of a tag that holds whole numbers.
func (d directory) number(tag uint16) (v uint32, ok bool) {
	const short, long = 3, 4
	switch kind, value := d.find(tag); {
	case kind == short && len(value) >= 2:
		return uint32(d.order.Uint16(value)), true
	case kind == long && len(value) >= 4:
		return d.order.Uint32(value), true
	}
	return 0, false
}
