package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fewtubes/gamut/bounded"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/figures"

	"github.com/kovidgoyal/imaging/prism/meta"
	"golang.org/x/image/webp"
)

// patches are the 12 fields, row by row, of the pictures in testdata. Those were
// written by ImageMagick 6.9.11-60 and, for HEIC, libheif 1.15.1.
var patches = [12][3]uint8{
	{0, 0, 0}, {255, 255, 255}, {128, 128, 128}, {188, 188, 188},
	{255, 0, 0}, {0, 255, 0}, {0, 0, 255}, {255, 128, 0},
	{40, 70, 35}, {200, 180, 120}, {90, 110, 140}, {160, 60, 50},
}

// inP3 are the same codes read as Display P3, in sRGB: LittleCMS 2.14 (transicc
// 5.1), for the fields that lie inside sRGB.
var inP3 = map[int][3]float64{
	0: {0, 0, 0}, 1: {255, 255, 255}, 2: {128, 128, 128}, 3: {188, 188, 188},
	8: {28.9057, 70.9568, 30.3309}, 9: {204.1494, 179.0955, 111.0295},
	10: {84.6911, 110.7410, 142.7781}, 11: {173.4772, 50.3372, 43.4017},
}

func field(p *Picture, i int) colour.LinearRGB {
	return p.At((2*(i%4)+1)*p.W/8, (2*(i/4)+1)*p.H/6)
}

// Steps of 255 that the coding of a format may cost: none without loss; luma
// and colour difference are rounded apart in the others (up to 1.8 in blue).
var formatTolerance = map[string]float64{".png": 0.01, ".tif": 0.01, ".jpg": 2, ".webp": 3, ".heic": 2}

func TestPatches(t *testing.T) {
	for ending, tolerance := range formatTolerance {
		p, err := Open("testdata/srgb"+ending, 0)
		if err != nil {
			t.Fatal(err)
		}
		if 3*p.W != 4*p.H || len(p.Notes) > 0 {
			t.Errorf("%s: %d x %d, %v", ending, p.W, p.H, p.Notes)
		}
		for i, want := range patches {
			got := field(p, i).SRGB()
			for k, v := range [3]float64{got.R, got.G, got.B} {
				if math.Abs(255*v-float64(want[k])) > tolerance {
					t.Errorf("%s field %d: %.2f in channel %d, want %d", ending, i, 255*v, k, want[k])
				}
			}
		}
	}
}

func TestPatchesInP3(t *testing.T) {
	for ending, tolerance := range formatTolerance {
		p, err := Open("testdata/p3"+ending, 0)
		if err != nil {
			t.Fatal(err)
		}
		for i, want := range inP3 {
			got := field(p, i).SRGB()
			for k, v := range [3]float64{got.R, got.G, got.B} {
				if math.Abs(255*v-want[k]) > 1+tolerance {
					t.Errorf("%s field %d: %.2f in channel %d, want %.2f", ending, i, 255*v, k, want[k])
				}
			}
		}
	}
}

// The primaries of Display P3 lie outside sRGB and are kept there. Linear sRGB
// of P3 red, green and blue from the published chromaticities: P3 (SMPTE RP
// 431-2) 0.680 0.320, 0.265 0.690, 0.150 0.060; sRGB (IEC 61966-2-1) 0.64 0.33,
// 0.30 0.60, 0.15 0.06; the white of both D65 (0.3127 0.3290). Each gives its
// matrix to XYZ (SMPTE RP 177), and one is carried through the inverse of the other.
func TestP3PrimariesAreKept(t *testing.T) {
	p, err := Open("testdata/p3.png", 0)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range map[int]colour.LinearRGB{
		4: {R: 1.2249, G: -0.0421, B: -0.0196},
		5: {R: -0.2249, G: 1.0421, B: -0.0786},
		6: {R: 0, G: 0, B: 1.0983},
	} {
		got := field(p, i)
		if math.Abs(got.R-want.R)+math.Abs(got.G-want.G)+math.Abs(got.B-want.B) > 0.003 {
			t.Errorf("field %d: %.4f, want %.4f", i, got, want)
		}
	}
}

// Profiles of every kind against LittleCMS, see the head of testdata/lcms.csv;
// table.png by what serves large pictures.
func TestProfilesAgainstLittleCMS(t *testing.T) {
	rows := figures.Rows(t, "testdata/lcms.csv")
	lights := map[string]linearizer{}
	worst := map[string]float64{}
	for _, row := range rows {
		light, ok := lights[row[0]]
		if !ok {
			data, err := os.ReadFile("testdata/" + row[0])
			if err != nil {
				t.Fatal(err)
			}
			m := formatOf(data).metadata(data)
			light = linearize(image.NewNRGBA(image.Rect(0, 0, 400, 400)), &m)
			if len(m.notes) > 0 || (light.table != nil) != (row[0] == "table.png") {
				t.Fatalf("%s: %q", row[0], m.notes)
			}
			lights[row[0]] = light
		}
		v := figures.Numbers(t, row[1:7])
		r, g, b := light.at(uint8(v[0]), uint8(v[1]), uint8(v[2]))
		got := light.mixed([3]float64{r, g, b}).SRGB()
		for k, g := range [3]float64{got.R, got.G, got.B} {
			d := math.Abs(255*g - v[3+k])
			worst[row[0]] = max(worst[row[0]], d)
			if d > 1 {
				t.Errorf("%v: channel %d is %.3f", row, k, 255*g)
			}
		}
	}
	t.Logf("%d colours, largest differences of 255: %.3v", len(rows), worst)
}

// A profile whose curves begin above 0 says how dark its black is seen; black
// comes to no light all the same, and the curve keeps its shape.
func TestLiftedBlackIsBlack(t *testing.T) {
	data := read(t, "p3.png")
	profile := formatOf(data).metadata(data).profile
	at := bytes.Index(profile, []byte("curv\x00\x00\x00\x00\x00\x00\x04\x00")) // 1024 entries (ICC.1:2022, section 10.6)
	if at < 0 {
		t.Fatal("no curve in the profile")
	}
	const lift = 1.0 / 64
	lifted := bytes.Clone(profile)
	for i := range 1024 {
		entry := lifted[at+12+2*i:]
		v := float64(binary.BigEndian.Uint16(entry)) / 65535
		binary.BigEndian.PutUint16(entry, uint16(math.Round(65535*(lift+(1-lift)*v))))
	}
	plain, other := linearize(small(), &metadata{profile: profile}), linearize(small(), &metadata{profile: lifted})
	if other.table != nil || other.matrix == nil {
		t.Fatal("the profile is not read by its curves")
	}
	for v := range 256 {
		a, _, _ := plain.at(uint8(v), 0, 0)
		b, _, _ := other.at(uint8(v), 0, 0)
		if math.Abs(a-b) > 1e-4 {
			t.Errorf("code %d: %.5f of the light, lifted %.5f", v, a, b)
		}
	}
}

// Code points of ITU-T H.273 that leave the curve open or name that of BT.709
// are read by the curve of sRGB, as such pictures are shown (common practice, no
// source); a curve that they do name is kept.
func TestCurveOfCodePoints(t *testing.T) {
	srgb := unprofiled()
	for _, c := range []struct {
		primaries, transfer uint8
		same                bool
	}{{1, 13, true}, {1, 1, true}, {1, 2, true}, {2, 2, true}, {12, 1, true}, {12, 13, true}, {1, 8, false}} { // 12: P3, 8: linear
		l, err := byCodePoints(meta.CodingIndependentCodePoints{ColorPrimaries: c.primaries, TransferCharacteristics: c.transfer, VideoFullRange: 1, IsSet: true})
		if err != nil {
			t.Fatalf("%d/%d: %v", c.primaries, c.transfer, err)
		}
		worst := 0.0
		for v := range 256 {
			worst = max(worst, math.Abs(l.curve[0][v]-srgb.curve[0][v]))
		}
		if same := worst < 1e-4; same != c.same {
			t.Errorf("%d/%d: off the curve of sRGB by up to %.4f", c.primaries, c.transfer, worst)
		}
		if (l.matrix != nil) != (c.primaries == 12 || !c.same) {
			t.Errorf("%d/%d: matrix %v", c.primaries, c.transfer, l.matrix)
		}
	}
}

// The same of a picture so small that its pixels are asked for one by one.
func TestSmallPictureAgainstLittleCMS(t *testing.T) {
	data := read(t, "table.png")
	m := formatOf(data).metadata(data)
	asked := 0
	for _, row := range figures.Rows(t, "testdata/lcms.csv") {
		if row[0] != "table.png" {
			continue
		}
		asked++
		v := figures.Numbers(t, row[1:7])
		img := image.NewNRGBA(image.Rect(0, 0, 1, 1))
		img.SetNRGBA(0, 0, color.NRGBA{uint8(v[0]), uint8(v[1]), uint8(v[2]), 255})
		p, err := averaged(t.Context(), img, m, 0)
		if err != nil {
			t.Fatal(err)
		}
		got := p.At(0, 0).SRGB()
		for k, g := range [3]float64{got.R, got.G, got.B} {
			if d := math.Abs(255*g - v[3+k]); d > 0.1 {
				t.Errorf("%v: channel %d is %.3f", row, k, 255*g)
			}
		}
	}
	if asked < 40 {
		t.Errorf("%d colours", asked)
	}
}

// Full-scale colours in the codes of video: colour bars of 100 % (ITU-R BT.601-7
// and BT.709-6, from their defining equations).
func TestFromVideo(t *testing.T) {
	bt709, _ := lumaOf(1)
	for _, c := range []struct {
		l         luma
		y, cb, cr uint8
		want      color.NRGBA
	}{
		{bt601, 16, 128, 128, color.NRGBA{0, 0, 0, 255}},
		{bt601, 235, 128, 128, color.NRGBA{255, 255, 255, 255}},
		{bt601, 81, 90, 240, color.NRGBA{255, 0, 0, 255}},
		{bt601, 145, 54, 34, color.NRGBA{0, 255, 0, 255}},
		{bt601, 41, 240, 110, color.NRGBA{0, 0, 255, 255}},
		{bt709, 63, 102, 240, color.NRGBA{255, 0, 0, 255}},
		{bt709, 173, 42, 26, color.NRGBA{0, 255, 0, 255}},
		{bt709, 32, 240, 118, color.NRGBA{0, 0, 255, 255}},
	} {
		img := image.NewYCbCr(image.Rect(0, 0, 1, 1), image.YCbCrSubsampleRatio444)
		img.Y[0], img.Cb[0], img.Cr[0] = c.y, c.cb, c.cr
		got := fromVideo(img, c.l, false).At(0, 0).(color.NRGBA)
		off := func(a, b uint8) bool { return max(a, b)-min(a, b) > 1 }
		if off(got.R, c.want.R) || off(got.G, c.want.G) || off(got.B, c.want.B) {
			t.Errorf("%v: %v", c, got)
		}
	}
}

// Where the first pixel of the file and the last of its first row stand when
// the picture is upright, from the words of CIPA DC-008-2012 (Exif 2.3) for tag
// 0x0112, such as 6: "the 0th row is the visual right-hand side, the 0th column
// the visual top".
func TestOrientation(t *testing.T) {
	for o, want := range [9][2]string{
		1: {"top left", "top right"}, 2: {"top right", "top left"},
		3: {"bottom right", "bottom left"}, 4: {"bottom left", "bottom right"},
		5: {"top left", "bottom left"}, 6: {"top right", "bottom right"},
		7: {"bottom right", "top right"}, 8: {"bottom left", "top left"},
	} {
		if o == 0 {
			continue
		}
		p, err := Decode("o.jpg", oriented(t, uint16(o)), 0)
		if err != nil {
			t.Fatal(err)
		}
		if wide := p.W > p.H; wide != (o < 5) || p.FullW != p.W || p.FullH != p.H {
			t.Errorf("%d: %d x %d, full %d x %d", o, p.W, p.H, p.FullW, p.FullH)
		}
		corner := map[string]colour.LinearRGB{
			"top left": p.At(2, 2), "top right": p.At(p.W-3, 2),
			"bottom left": p.At(2, p.H-3), "bottom right": p.At(p.W-3, p.H-3),
		}
		if c := corner[want[0]]; c.R < 0.9 || c.B > 0.1 {
			t.Errorf("%d: the first pixel is not %s: %v", o, want[0], corner)
		}
		if c := corner[want[1]]; c.B < 0.9 || c.R > 0.1 {
			t.Errorf("%d: the end of the first row is not %s: %v", o, want[1], corner)
		}
	}
}

// oriented is a JPEG, wider than high, red at the start of its first row, blue
// at its end, that carries an EXIF orientation.
func oriented(t testing.TB, o uint16) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 48, 32))
	for y := range 32 {
		for x := range 48 {
			c := color.RGBA{0, 0, 0, 255}
			switch {
			case x < 16 && y < 16:
				c.R = 255
			case x >= 32 && y < 16:
				c.B = 255
			}
			img.Set(x, y, c)
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 100}); err != nil {
		t.Fatal(err)
	}
	exif := []byte("Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01")
	exif = binary.BigEndian.AppendUint16(exif, o)
	exif = append(exif, 0, 0, 0, 0, 0, 0)
	head := binary.BigEndian.AppendUint16([]byte("\xff\xd8\xff\xe1"), uint16(len(exif)+2))
	return append(append(head, exif...), b.Bytes()[2:]...)
}

// Black and white in equal parts average to half the light, coded 187.516
// (IEC 61966-2-1), not to the middle code 127.5.
func TestAverageIsOfLight(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 100, 60))
	for i := range img.Pix {
		img.Pix[i] = uint8(255 * ((i%100 + i/100) % 2))
	}
	p, err := Decode("x.png", encoded(t, img), 10)
	if err != nil {
		t.Fatal(err)
	}
	if p.W != 10 || p.H != 6 || p.FullW != 100 {
		t.Fatalf("%d x %d of %d", p.W, p.H, p.FullW)
	}
	for _, c := range p.Pix {
		if v := 255 * c.SRGB().G; math.Abs(v-187.516) > 0.01 {
			t.Fatalf("%.3f", v)
		}
	}
}

func TestSpreadLosesNothing(t *testing.T) {
	for _, c := range [][2]int{{1, 1}, {7, 3}, {10, 10}, {1600, 640}, {641, 640}} {
		got := make([]float64, c[1]+1)
		for _, s := range spread(c[0], c[1]) {
			got[s.cell] += s.weight[0]
			got[s.cell+1] += s.weight[1]
		}
		for i, v := range got[:c[1]] {
			if want := float64(c[0]) / float64(c[1]); math.Abs(v-want) > 1e-9 {
				t.Errorf("%v: cell %d holds %v, want %v", c, i, v, want)
			}
		}
	}
}

func TestTransparent(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 4, 2))
	if _, err := Decode("x.png", encoded(t, img), 0); err == nil || !strings.Contains(err.Error(), "transparent all over") {
		t.Error(err)
	}
	img.SetNRGBA(1, 1, color.NRGBA{255, 0, 0, 128})
	p, err := Decode("x.png", encoded(t, img), 0)
	if err != nil {
		t.Fatal(err)
	}
	if c := p.At(1, 1); p.CoverAt(5) < 0.5 || p.CoverAt(0) != 0 || c.R != 1 {
		t.Errorf("cover %v, colour %v", p.Cover, c)
	}
}

func encoded(t testing.TB, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// What is no picture, too large or cut short gives one line that says so.
func TestMistakes(t *testing.T) {
	cut := func(name string, part float64) []byte {
		data, err := os.ReadFile("testdata/" + name)
		if err != nil {
			t.Fatal(err)
		}
		return data[:int(part*float64(len(data)))]
	}
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"empty":          {nil, "no picture that can be read here"},
		"text.jpg":       {[]byte("Dear diary, today I painted the marsh.\n"), "give a JPEG, PNG, WebP, TIFF or HEIC file"},
		"huge.png":       {hugePNG(), "50000 x 50000 pixels are more than the 200 million that can be read; export it smaller"},
		"huge.jpg":       {[]byte("\xff\xd8\xff\xc0\x00\x11\x08\xc3\x50\xc3\x50\x03\x01\x11\x00\x02\x11\x00\x03\x11\x00\xff\xda\x00\x02"), "50000 x 50000 pixels"},
		"cut.png":        {cut("srgb.png", 0.7), "damaged or cut short"},
		"cut.jpg":        {cut("srgb.jpg", 0.9), "damaged or cut short"},
		"cut.webp":       {cut("srgb.webp", 0.7), "damaged or cut short"},
		"cut.tif":        {cut("srgb.tif", 0.5), "damaged or cut short"},
		"cut.heic":       {cut("srgb.heic", 0.5), "damaged or cut short"},
		"cut-header.jpg": {cut("srgb.jpg", 0.02), "damaged or cut short"},
		"moving.webp":    {animation(t), "this is an animation, and cannot be read here; save one picture of it as PNG or JPEG"},
		"press.tif":      {pressTIFF(), "its colours are those of a printing press (CMYK), and cannot be read here; save it in RGB colours"},
		"lossless.jpg":   {[]byte("\xff\xd8\xff\xc3\x00\x0b\x08\x00\x08\x00\x08\x01\x01\x11\x00\xff\xda\x00\x02"), "it is coded in a way that cannot be read here"},
	} {
		_, err := Decode(name, c.data, 100)
		var wrong *Error
		if !errors.As(err, &wrong) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Open(filepath.Join(t.TempDir(), "none.jpg"), 100); !errors.Is(err, os.ErrNotExist) {
		t.Error(err)
	}
}

// What begins as no picture is not read to its end.
func TestNoPictureCostsNothing(t *testing.T) {
	if _, err := os.Stat("/dev/zero"); err != nil {
		t.Skip(err)
	}
	bounded.Within(t, 1<<20, func() {
		if _, err := Open("/dev/zero", 100); err == nil || !strings.Contains(err.Error(), "no picture that can be read here") {
			t.Error(err)
		}
	})
}

// animation shows one picture twice (RFC 9649, section 2.7.1).
func animation(t *testing.T) []byte {
	t.Helper()
	still := read(t, "srgb.webp")
	size, err := webp.DecodeConfig(bytes.NewReader(still))
	if err != nil {
		t.Fatal(err)
	}
	chunk := func(kind string, body ...byte) []byte {
		b := binary.LittleEndian.AppendUint32([]byte(kind), uint32(len(body)))
		return append(append(b, body...), make([]byte, len(body)%2)...)
	}
	var coded []byte
	eachChunk(still, func(kind string, body []byte) {
		if kind == "VP8 " || kind == "VP8L" {
			coded = chunk(kind, body...)
		}
	})
	w, h := size.Width-1, size.Height-1
	extent := []byte{byte(w), byte(w >> 8), 0, byte(h), byte(h >> 8), 0}
	frame := chunk("ANMF", slices.Concat(make([]byte, 6), extent, []byte{100, 0, 0, 0}, coded)...)
	body := slices.Concat([]byte("WEBP"), chunk("VP8X", append([]byte{1 << 1, 0, 0, 0}, extent...)...), chunk("ANIM", make([]byte, 6)...), frame, frame)
	return slices.Concat([]byte("RIFF"), binary.LittleEndian.AppendUint32(nil, uint32(len(body))), body)
}

// pressTIFF is four pixels of four inks (TIFF 6.0, section 16).
func pressTIFF() []byte {
	b := []byte("II*\x00\x08\x00\x00\x00\x09\x00")
	const short, at = 3, 8 + 2 + 9*12 + 4
	for _, t := range [][3]uint32{{tagWidth, 1, 2}, {tagLength, 1, 2}, {258, 4, at}, {tagCompression, 1, 1}, {tagColours, 1, 5},
		{273, 1, at + 8}, {277, 1, 4}, {tagRowsInStrip, 1, 2}, {279, 1, 16}} {
		b = binary.LittleEndian.AppendUint16(b, uint16(t[0]))
		b = binary.LittleEndian.AppendUint16(b, short)
		b = binary.LittleEndian.AppendUint32(b, t[1])
		b = binary.LittleEndian.AppendUint32(b, t[2])
	}
	b = append(b, 0, 0, 0, 0, 8, 0, 8, 0, 8, 0, 8, 0)
	return append(b, make([]byte, 16)...)
}

// hugePNG is only a header that promises 50 000 x 50 000 pixels.
func hugePNG() []byte {
	chunk := []byte("IHDR\x00\x00\xc3\x50\x00\x00\xc3\x50\x08\x02\x00\x00\x00")
	b := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d"), chunk...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(chunk))
}

// A sound picture with a broken profile is read as sRGB, and says so.
func TestBrokenProfile(t *testing.T) {
	data, err := os.ReadFile("testdata/p3.jpg")
	if err != nil {
		t.Fatal(err)
	}
	at := bytes.Index(data, []byte("acsp"))
	if at < 0 {
		t.Fatal("no profile in the file")
	}
	copy(data[at:], "xxxx")
	p, err := Decode("p3.jpg", data, 0)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Notes) != 1 || !strings.Contains(p.Notes[0], "colour profile cannot be read") {
		t.Errorf("notes %v", p.Notes)
	}
}
