package photo

import (
	"bytes"
	"encoding/binary"
)

// checkProfile checks the sizes in an ICC profile that its reader takes on
// trust and sets memory aside for: where the tags lie (ICC.1:2022, section 7.3),
// how many points a curve has and how many languages a text (sections 10.6, 10.15).
func checkProfile(data []byte) error {
	const head, mostTags = 132, 1000
	if len(data) < head || len(data) > mostProfile {
		return errProfile
	}
	tags := binary.BigEndian.Uint32(data[128:])
	if tags > mostTags || head+12*int(tags) > len(data) {
		return errProfile
	}
	for t := data[head : head+12*tags]; len(t) > 0; t = t[12:] {
		at, size := uint64(binary.BigEndian.Uint32(t[4:])), uint64(binary.BigEndian.Uint32(t[8:]))
		if at < head+12*uint64(tags) || at+size > uint64(len(data)) {
			return errProfile
		}
	}
	if !counted(data, "curv", 12, 2) || !counted(data, "mluc", 16, 12) {
		return errProfile
	}
	return nil
}

// counted reports whether what the elements of a type count has room. They
// stand anywhere, also within others; the count follows four empty bytes.
func counted(data []byte, kind string, head, each uint64) bool {
	for at := bytes.Index(data, []byte(kind)); at >= 0; {
		data = data[at:]
		if len(data) >= 12 && head+each*uint64(binary.BigEndian.Uint32(data[8:])) > uint64(len(data)) {
			return false
		}
		data = data[len(kind):]
		at = bytes.Index(data, []byte(kind))
	}
	return true
}
