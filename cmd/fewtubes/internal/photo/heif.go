package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
)

// heifInfo is what the boxes of a HEIC file (ISO/IEC 23008-12 over the box
// structure of ISO/IEC 14496-12) say about its primary picture.
type heifInfo struct {
	w, h    int    // of the largest picture in the file, before turning
	profile []byte // ICC profile, may be nil
	nclx    *nclx
}

// nclx holds code points of ITU-T H.273.
type nclx struct {
	primaries, transfer, matrix uint16
	fullRange                   bool
}

var errBoxes = errors.New("its boxes do not fit together")

// isHEIC looks for the brands of pictures coded by HEVC.
func isHEIC(data []byte) bool {
	if len(data) < 16 || string(data[4:8]) != "ftyp" {
		return false
	}
	switch string(data[8:12]) {
	case "heic", "heix", "heim", "heis", "hevc", "hevx":
		return true
	case "mif1", "msf1":
		end := min(int(binary.BigEndian.Uint32(data)), len(data), 256)
		return end > 16 && (bytes.Contains(data[16:end], []byte("heic")) || bytes.Contains(data[16:end], []byte("heix")))
	}
	return false
}

// readHEIF finds the properties of the primary picture.
func readHEIF(data []byte) (info heifInfo, err error) {
	meta, ok := findBox(data, "meta")
	if !ok || len(meta) < 4 {
		return info, errBoxes
	}
	meta = meta[4:] // version and flags
	primary, err := primaryItem(meta)
	if err != nil {
		return info, err
	}
	iprp, ok1 := findBox(meta, "iprp")
	ipco, ok2 := findBox(iprp, "ipco")
	if !ok1 || !ok2 {
		return info, errBoxes
	}
	mine := propertiesOf(iprp, primary)
	index := 0
	eachBox(ipco, func(kind string, body []byte) {
		index++
		switch {
		case kind == "ispe" && len(body) >= 12:
			w, h := int(binary.BigEndian.Uint32(body[4:])), int(binary.BigEndian.Uint32(body[8:]))
			if float64(w)*float64(h) > float64(info.w)*float64(info.h) {
				info.w, info.h = w, h
			}
		case kind == "colr" && mine[index]:
			info.takeColour(body)
		}
	})
	if info.w == 0 {
		return info, errBoxes
	}
	return info, nil
}

func (info *heifInfo) takeColour(body []byte) {
	if len(body) < 4 {
		return
	}
	switch rest := body[4:]; string(body[:4]) {
	case "prof", "rICC":
		info.profile = rest
	case "nclx":
		if len(rest) >= 7 {
			u := binary.BigEndian.Uint16
			info.nclx = &nclx{u(rest), u(rest[2:]), u(rest[4:]), rest[6]&0x80 != 0}
		}
	}
}

func primaryItem(meta []byte) (uint32, error) {
	pitm, ok := findBox(meta, "pitm")
	switch {
	case ok && len(pitm) >= 6 && pitm[0] == 0:
		return uint32(binary.BigEndian.Uint16(pitm[4:])), nil
	case ok && len(pitm) >= 8:
		return binary.BigEndian.Uint32(pitm[4:]), nil
	}
	return 0, errBoxes
}

// propertiesOf lists the 1-based indices of the properties that belong to an item.
func propertiesOf(iprp []byte, item uint32) map[int]bool {
	found := map[int]bool{}
	eachBox(iprp, func(kind string, b []byte) {
		if kind != "ipma" || len(b) < 8 {
			return
		}
		r := reader{data: b[8:]}
		wideItem, wideIndex := b[0] >= 1, b[3]&1 == 1
		for n := binary.BigEndian.Uint32(b[4:]); n > 0 && !r.bad; n-- {
			id := r.uint(2)
			if wideItem {
				id = id<<16 | r.uint(2)
			}
			for k := r.uint(1); k > 0 && !r.bad; k-- {
				index := r.uint(1) & 0x7f
				if wideIndex {
					index = index<<8 | r.uint(1)
				}
				if id == item {
					found[int(index)] = true
				}
			}
		}
	})
	return found
}

// reader takes big-endian numbers off the front of a slice.
type reader struct {
	data []byte
	bad  bool
}

func (r *reader) uint(n int) (v uint32) {
	if len(r.data) < n {
		r.bad, r.data = true, nil
		return 0
	}
	for _, b := range r.data[:n] {
		v = v<<8 | uint32(b)
	}
	r.data = r.data[n:]
	return v
}

func findBox(data []byte, want string) (body []byte, found bool) {
	eachBox(data, func(kind string, b []byte) {
		if kind == want && !found {
			body, found = b, true
		}
	})
	return body, found
}

// eachBox visits the boxes at one level; it stops where they no longer fit.
func eachBox(data []byte, visit func(kind string, body []byte)) {
	for len(data) >= 8 {
		size, head := uint64(binary.BigEndian.Uint32(data)), uint64(8)
		kind := string(data[4:8])
		switch {
		case size == 1 && len(data) >= 16:
			size, head = binary.BigEndian.Uint64(data[8:]), 16
		case size == 0:
			size = uint64(len(data))
		}
		if size < head || size > uint64(len(data)) {
			return
		}
		visit(kind, data[head:size])
		data = data[size:]
	}
}
