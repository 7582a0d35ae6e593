package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/jpeg"
	"os"
	"testing"

	"fewtubes/gamut/bounded"

	"github.com/gen2brain/heic"
	"golang.org/x/image/tiff"
)

// Whatever the bytes, a whole picture of finite colours or an error of ours,
// within the bounds of time and memory.
func checkDecode(t *testing.T, data []byte) {
	t.Helper()
	var p *Picture
	var err error
	bounded.Work(t, len(data), func() { p, err = Decode("x.pic", data, 16) })
	if err != nil {
		wrong := (*Error)(nil)
		if !errors.As(err, &wrong) || wrong.Remedy == "" {
			t.Fatalf("%T %v", err, err)
		}
		bounded.Refusal(t, err, "x.pic: ")
		return
	}
	if p.W < 1 || p.H < 1 || p.W > 16 || p.H > 16 || len(p.Pix) != p.W*p.H {
		t.Fatalf("%d x %d, %d pixels", p.W, p.H, len(p.Pix))
	}
	for _, c := range p.Pix {
		if !c.Lab().Finite() {
			t.Fatalf("pixel %v", c)
		}
	}
	for _, note := range p.Notes {
		bounded.Refusal(t, errors.New(note))
	}
}

func read(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func fuzzFormat(f *testing.F, name string, seeds ...[]byte) {
	for _, data := range seeds {
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if kind := formatOf(data); kind != nil && kind.name == name {
			checkDecode(t, data)
		}
	})
}

// small is a picture of one opaque grey.
func small() image.Image {
	img := image.NewRGBA(image.Rect(0, 0, 24, 16))
	for i := range img.Pix {
		img.Pix[i] = 128
		if i%4 == 3 {
			img.Pix[i] = 255
		}
	}
	return img
}

func FuzzJPEG(f *testing.F) {
	fuzzFormat(f, "jpeg", read(f, "srgb.jpg"), read(f, "p3.jpg"), oriented(f, 6))
}

func FuzzPNG(f *testing.F) {
	fuzzFormat(f, "png", read(f, "srgb.png"), read(f, "p3.png"), read(f, "wide.png"))
}

func FuzzWebP(f *testing.F) { fuzzFormat(f, "webp", read(f, "srgb.webp"), read(f, "p3.webp")) }

func FuzzTIFF(f *testing.F) {
	var packed bytes.Buffer
	if err := tiff.Encode(&packed, small(), &tiff.Options{Compression: tiff.Deflate}); err != nil {
		f.Fatal(err)
	}
	fuzzFormat(f, "tiff", read(f, "srgb.tif"), read(f, "p3.tif"), packed.Bytes())
}

// The decoder of HEIC is compiled anew for every process, before the engine
// begins to time the inputs.
func FuzzHEIC(f *testing.F) {
	heic.Init()
	fuzzFormat(f, "heic", read(f, "srgb.heic"), read(f, "p3.heic"), read(f, "turned.heic"))
}

func FuzzReadHEIF(f *testing.F) {
	f.Add(read(f, "srgb.heic"))
	f.Add(read(f, "p3.heic"))
	f.Fuzz(func(t *testing.T, data []byte) {
		var info heifInfo
		var err error
		bounded.Work(t, len(data), func() { info, err = readHEIF(data) })
		if err == nil && (info.w <= 0 || info.h <= 0) {
			t.Fatalf("%+v", info)
		}
		_ = metadataHEIC(data)
	})
}

// The block itself is the input, in a sound picture, so that its reader is
// reached however it looks.
func FuzzProfile(f *testing.F) {
	for _, name := range []string{"p3.jpg", "p3.png", "p3.tif", "table.png", "grey.png"} {
		f.Add(formatOf(read(f, name)).metadata(read(f, name)).profile)
	}
	f.Fuzz(func(t *testing.T, profile []byte) {
		img := small()
		m := metadata{profile: profile}
		bounded.Work(t, len(profile), func() {
			m.notes = nil
			linearize(img, &m)
		})
		if len(profile) < 1<<16-20 {
			checkDecode(t, withProfile(t, profile))
		}
	})
}

func FuzzEXIF(f *testing.F) {
	f.Add(blocksJPEG(oriented(f, 6)).exif)
	f.Add(read(f, "p3.tif"))
	f.Add(circle())
	f.Fuzz(func(t *testing.T, exif []byte) {
		if len(exif) > 1<<16-20 {
			return
		}
		data := withSegment(t, 0xe1, append([]byte("Exif\x00\x00"), exif...))
		var m metadata
		bounded.Work(t, len(data), func() { m = formatOf(data).metadata(data) })
		if m.orientation < 0 || m.orientation > 8 {
			t.Fatalf("orientation %d", m.orientation)
		}
		checkDecode(t, data)
	})
}

// withSegment is a small JPEG that carries a segment.
func withSegment(t testing.TB, marker byte, body []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, small(), nil); err != nil {
		t.Fatal(err)
	}
	return segmentIn(b.Bytes(), marker, body)
}

func segmentIn(jpeg []byte, marker byte, body []byte) []byte {
	head := binary.BigEndian.AppendUint16([]byte{0xff, 0xd8, 0xff, marker}, uint16(len(body)+2))
	return append(append(head, body...), jpeg[2:]...)
}

func withProfile(t testing.TB, profile []byte) []byte {
	t.Helper()
	return withSegment(t, 0xe2, profileSegment(profile))
}

func profileSegment(profile []byte) []byte {
	return append([]byte("ICC_PROFILE\x00\x01\x01"), profile...)
}

// circle is a TIFF structure whose second directory leads back to the first.
func circle() []byte {
	return []byte("MM\x00*\x00\x00\x00\x08" + "\x00\x00\x00\x00\x00\x0e" + "\x00\x00\x00\x00\x00\x08")
}

// chunk is one chunk of a PNG.
func chunk(kind, body string) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	b = append(b, kind+body...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE([]byte(kind+body)))
}
