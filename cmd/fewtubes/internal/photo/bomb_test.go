package photo

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"image"
	"image/jpeg"
	"io"
	"slices"
	"strings"
	"testing"

	"fewtubes/gamut/bounded"
)

// Files made to fill the memory or to keep the program busy: small, and refused
// or read within the bounds. The sizes of the parts are what the formats allow.
func TestBombs(t *testing.T) {
	zeros := func(n int64) []byte {
		var b bytes.Buffer
		w := zlib.NewWriter(&b)
		if _, err := io.CopyN(w, zero{}, n); err != nil {
			t.Fatal(err)
		}
		if err := w.Close(); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	sound := encoded(t, small())
	behindIHDR := func(chunks ...[]byte) []byte {
		return bytes.Join(append(append([][]byte{sound[:33]}, chunks...), sound[33:]), nil)
	}
	packed := string(zeros(100_000_000))
	profile := formatOf(read(t, "p3.jpg")).metadata(read(t, "p3.jpg")).profile
	withTable := formatOf(read(t, "table.png")).metadata(read(t, "table.png")).profile
	manyTags := bytes.Clone(profile)
	binary.BigEndian.PutUint32(manyTags[128:], 1<<32-1)
	farTag := bytes.Clone(profile)
	binary.BigEndian.PutUint32(farTag[132+4:], 1<<31)
	manyColours := bytes.Clone(profile)
	binary.BigEndian.PutUint32(manyColours[132+8:], 1<<32-1)
	for name, c := range map[string]struct {
		data []byte
		says string // empty: it is read
	}{
		"a profile of 100 MB":             {behindIHDR(chunk("iCCP", "x\x00\x00"+packed)), ""},
		"a chunk of 4 GB":                 {behindIHDR([]byte("\xff\xff\xff\xf0iCCP")), "damaged"},
		"EXIF of directories in a circle": {withSegment(t, 0xe1, append([]byte("Exif\x00\x00"), circle()...)), ""},
		"the same in PNG":                 {behindIHDR(chunk("eXIf", string(circle()))), ""},
		"EXIF that shares one value":      {behindIHDR(chunk("eXIf", string(shared()))), ""},
		"a profile of 4 billion tags":     {withProfile(t, manyTags), ""},
		"a profile with a tag far off":    {withProfile(t, farTag), ""},
		"a profile with a tag of 4 GB":    {withProfile(t, manyColours), ""},
		"PNG of 400 million pixels":       {flat(t, 20000, 20000), "more than the 200 million"},
		"PNG of 190 million pixels":       {flat(t, 19000, 10000), "are too many for a file of only"},
		"PNG as large as is read":         {flat(t, 3500, 3500), ""},
		"12 million pixels and a table":   {large(t, withTable), ""},
		"PNG of one row":                  {flat(t, 15_000_000, 1), "a side of 15000000 pixels"},
		"TIFF of great tiles":             {tiles(), "are too many for a file of only"},
		"progressive JPEG":                {progressive(), "are too many for a file of only"},
		"JPEG of empty passes":            {passes(2000), "coded in over 60 passes"},
		"JPEG of as many as are read":     {passes(mostPasses), ""},
		"many profiles in one PNG":        {behindIHDR(slices.Repeat([][]byte{chunk("iCCP", "x\x00\x00"+string(zeros(15_000_000)))}, 40)...), ""},
		"JPEG behind stray bytes":         {append([]byte("\xff\xd8\x00"), progressive()[2:]...), "are too many for a file of only"},
		"WebP without loss":               {webpHead(), "are too many for a file of only"},
		"RIFF chunk of 4 GB":              {[]byte("RIFF\xff\xff\xff\xffWEBPVP8X\x0a\x00\x00\x00\x28\x00\x00\x00\x00\x00\x00\x00\x00\x00ICCP\xf0\xff\xff\xff"), "damaged"},
	} {
		if len(c.data) >= bounded.Size {
			t.Errorf("%s: %d bytes are too many to count", name, len(c.data))
		}
		bounded.Work(t, len(c.data), func() {
			_, err := Decode("bomb", c.data, 640)
			switch {
			case c.says == "" && err != nil, c.says != "" && (err == nil || !strings.Contains(err.Error(), c.says)):
				t.Errorf("%s: %v, want %q", name, err, c.says)
			case err != nil:
				bounded.Refusal(t, err, "bomb: ")
			}
		})
	}
}

// large is a JPEG of 12 million pixels that carries a profile.
func large(t *testing.T, profile []byte) []byte {
	t.Helper()
	img := image.NewYCbCr(image.Rect(0, 0, 4000, 3000), image.YCbCrSubsampleRatio420)
	for i := range img.Y {
		img.Y[i] = uint8(i >> 12)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 1}); err != nil {
		t.Fatal(err)
	}
	return segmentIn(b.Bytes(), 0xe2, profileSegment(profile))
}

type zero struct{}

func (zero) Read(b []byte) (int, error) {
	clear(b)
	return len(b), nil
}

// flat is a PNG of one colour, one bit a pixel.
func flat(t *testing.T, w, h int) []byte {
	t.Helper()
	head := binary.BigEndian.AppendUint32(nil, uint32(w))
	head = binary.BigEndian.AppendUint32(head, uint32(h))
	var b bytes.Buffer
	z, _ := zlib.NewWriterLevel(&b, zlib.BestSpeed)
	if w*h <= 1<<24 { // the rest is not read
		if _, err := io.CopyN(z, zero{}, int64(h)*int64(1+(w+7)/8)); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return bytes.Join([][]byte{[]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", string(head)+"\x01\x00\x00\x00\x00"), chunk("IDAT", b.String()), chunk("IEND", "")}, nil)
}

// shared is an EXIF directory of 3 000 tags that all name the same 100 kB.
func shared() []byte {
	const n = 3000
	b := []byte("MM\x00*\x00\x00\x00\x08")
	b = binary.BigEndian.AppendUint16(b, n)
	for i := range n {
		b = binary.BigEndian.AppendUint16(b, uint16(1000+i))
		b = append(b, 0, 1, 0, 1, 0x86, 0xa0, 0, 0, 0, 0)
	}
	return append(b, make([]byte, 100_000)...)
}

// tiles is a packed TIFF 9 pixels wide whose tiles are 1024 wide.
func tiles() []byte {
	const n = 4000
	b := []byte("MM\x00*\x00\x00\x00\x08")
	b = binary.BigEndian.AppendUint16(b, 10)
	tag := func(id, kind uint16, count, value uint32) {
		b = binary.BigEndian.AppendUint16(b, id)
		b = binary.BigEndian.AppendUint16(b, kind)
		b = binary.BigEndian.AppendUint32(b, count)
		b = binary.BigEndian.AppendUint32(b, value)
	}
	const long, lzw, black, at = 4, 5, 1, 8 + 2 + 120 + 4
	for _, t := range [][3]uint32{{tagWidth, 1, 9}, {tagLength, 1, 8 * n}, {258, 1, 8}, {tagCompression, 1, lzw}, {262, 1, black}, {277, 1, 1},
		{tagTileWidth, 1, 1024}, {tagTileLength, 1, 8}, {324, n, at}, {325, n, at}} {
		tag(uint16(t[0]), long, t[1], t[2])
	}
	return append(b, make([]byte, 4+4*n)...)
}

// progressive is the head of a JPEG of 20 million pixels in three full channels.
func progressive() []byte {
	return []byte("\xff\xd8\xff\xc2\x00\x11\x08\x0f\xa0\x13\x88\x03\x01\x11\x00\x02\x11\x00\x03\x11\x00\xff\xda\x00\x02")
}

// passes is a progressive JPEG of 12 million pixels in three full channels whose
// first is gone through n times, for nothing: one code of one bit ends the band
// of 16384 blocks (ITU-T T.81, section G.1.2.2, table G.1: EOB14).
func passes(n int) []byte {
	const table = "\xff\xc4\x00\x14\x10\x01\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\xe0"
	const frame = "\xff\xc2\x00\x11\x08\x0b\xb8\x0f\xa0\x03\x01\x11\x00\x02\x11\x00\x03\x11\x00"
	scan := "\xff\xda\x00\x08\x01\x01\x00\x01\x3f\x00" + strings.Repeat("\x00", 23)
	return []byte("\xff\xd8" + table + frame + strings.Repeat(scan, n) + "\xff\xd9")
}

// webpHead promises 16384 x 16384 pixels less one in height; RFC 9649, section 3.4.
func webpHead() []byte {
	return []byte("RIFF\x18\x00\x00\x00WEBPVP8L\x05\x00\x00\x00\x2f\xff\xff\xc0\x02\x00")
}

// What is large for good reasons is read: few colours pack well, and phones
// pack better than they used to.
func TestBulkOfPhotographs(t *testing.T) {
	for _, c := range []struct {
		what             string
		w, h, held, size int
	}{
		{"a phone's 12 million pixels, JPEG", 4000, 3000, 3, 1_500_000},
		{"the same in a mist", 4000, 3000, 3, 400_000},
		{"24 million pixels, JPEG", 6000, 4000, 3, 3_000_000},
		{"48 million pixels, HEIC", 8064, 6048, 12, 5_000_000},
		{"24 million pixels, packed TIFF", 6000, 4000, 32, 40_000_000},
		{"24 million pixels, progressive JPEG", 6000, 4000, 15, 3_000_000},
		{"12 million pixels, progressive JPEG in a mist", 4000, 3000, 15, 400_000},
	} {
		if err := checkBulk("x", c.w, c.h, c.held, c.size); err != nil {
			t.Errorf("%s: %v", c.what, err)
		}
	}
}
