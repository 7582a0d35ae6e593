package photo

import (
	"encoding/binary"
	"os"
	"testing"
)

// boxed is a box of ISO/IEC 14496-12: size, kind, body.
func boxed(kind string, bodies ...[]byte) []byte {
	b := append([]byte{0, 0, 0, 0}, kind...)
	for _, body := range bodies {
		b = append(b, body...)
	}
	binary.BigEndian.PutUint32(b, uint32(len(b)))
	return b
}

// A picture of two tiles: the code points of the primary picture count, not
// those of the tile, and the larger size.
func TestReadHEIF(t *testing.T) {
	size := func(w, h uint32) []byte {
		b := make([]byte, 4, 12)
		return binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(b, w), h)
	}
	file := append(boxed("ftyp", []byte("heic\x00\x00\x00\x00mif1heic")), boxed("meta", make([]byte, 4),
		boxed("pitm", []byte{0, 0, 0, 0, 0, 7}),
		boxed("iprp",
			boxed("ipco",
				boxed("ispe", size(512, 512)),
				boxed("colr", []byte("nclx\x00\x01\x00\x0d\x00\x01\x00")),
				boxed("ispe", size(4032, 3024)),
				boxed("colr", []byte("nclx\x00\x0c\x00\x0d\x00\x06\x80")),
			),
			boxed("ipma", []byte{0, 0, 0, 0, 0, 0, 0, 2, 0, 1, 2, 1, 2, 0, 7, 2, 3, 0x84}),
		))...)
	if !isHEIC(file) {
		t.Error("not known as HEIC")
	}
	info, err := readHEIF(file)
	if err != nil {
		t.Fatal(err)
	}
	if info.w != 4032 || info.h != 3024 || info.nclx == nil || *info.nclx != (nclx{12, 13, 6, true}) {
		t.Errorf("%+v %+v", info, info.nclx)
	}
	for cut := range file {
		_, _ = readHEIF(file[:cut])
	}
}

// P3 by code points (12, 13) is P3 by profile.
func TestCodePoints(t *testing.T) {
	data, err := os.ReadFile("testdata/srgb.png")
	if err != nil {
		t.Fatal(err)
	}
	img, err := formatOf(data).decode(&watched{t.Context(), data, 0})
	if err != nil {
		t.Fatal(err)
	}
	m := metadata{}
	m.points.ColorPrimaries, m.points.TransferCharacteristics, m.points.IsSet = 12, 13, true
	p, err := averaged(t.Context(), img, m, 0)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range inP3 {
		got := field(p, i).SRGB()
		for k, v := range [3]float64{got.R, got.G, got.B} {
			if d := 255*v - want[k]; d > 1 || d < -1 {
				t.Errorf("field %d: %.2f in channel %d, want %.2f", i, 255*v, k, want[k])
			}
		}
	}
}

// turned.heic is srgb.png at 192 x 144 with a property that turns it a quarter
// anticlockwise. heif-convert (libheif 1.15.1) shows field 3 of the patches at
// the top left and field 0 at the bottom left of 144 x 192 pixels.
func TestTurnedHEIC(t *testing.T) {
	p, err := Open("testdata/turned.heic", 0)
	if err != nil {
		t.Fatal(err)
	}
	if p.W != 144 || p.H != 192 {
		t.Fatalf("%d x %d", p.W, p.H)
	}
	for at, want := range map[[2]int]int{{24, 24}: 3, {24, 168}: 0, {120, 24}: 11} {
		got := p.At(at[0], at[1]).SRGB().RGB8()
		for k := range got {
			if d := int(got[k]) - int(patches[want][k]); d < -2 || d > 2 {
				t.Errorf("at %v: %v, want %v", at, got, patches[want])
			}
		}
	}
}
