package page

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
	"os"
	"runtime"
	"runtime/metrics"
	"strings"
	"testing"
	"time"

	"fewtubes/gamut/bounded"
)

// bombMemory is what a file of less than a megabyte may make the page hold.
const bombMemory = 320 << 20

// unfoldedMemory is what texts that unfold may hold, garbage included: two at a
// time, the bodies that wait, and as much again until it is collected.
const unfoldedMemory = 1200 << 20

// packed is so many zeros, deflated.
func packed(n int) []byte {
	var b bytes.Buffer
	w := zlib.NewWriter(&b)
	zeros := make([]byte, 1<<20)
	for ; n > 0; n -= len(zeros) {
		_, _ = w.Write(zeros[:min(n, len(zeros))])
	}
	_ = w.Close()
	return b.Bytes()
}

// pngChunk is as in W3C PNG (third edition), section 5.3.
func pngChunk(kind string, data []byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	b = append(append(b, kind...), data...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}

func pngOf(side int, depth, kind byte, chunks ...[]byte) []byte {
	head := binary.BigEndian.AppendUint32(nil, uint32(side))
	head = append(binary.BigEndian.AppendUint32(head, uint32(side)), depth, kind, 0, 0, 0)
	b := append([]byte("\x89PNG\r\n\x1a\n"), pngChunk("IHDR", head)...)
	return append(append(b, bytes.Join(chunks, nil)...), pngChunk("IEND", nil)...)
}

// tiffOf is a deflated TIFF of RGB in one strip or one tile (TIFF 6.0, sections 2
// and 15; the values of three samples stand behind the directory).
func tiffOf(side uint32, data []byte, tiled bool) []byte {
	le := binary.LittleEndian
	b := le.AppendUint32([]byte("II*\x00"), uint32(8+len(data)))
	b = append(b, data...)
	n := uint32(9)
	if tiled {
		n = 10
	}
	bits := uint32(len(b)) + 2 + 12*n + 4
	entries := [][4]uint32{{256, 4, 1, side}, {257, 4, 1, side}, {258, 3, 3, bits}, {259, 3, 1, 8}, {262, 3, 1, 2}, {273, 4, 1, 8}, {277, 3, 1, 3}, {278, 4, 1, side}, {279, 4, 1, uint32(len(data))}}
	if tiled {
		entries = append(append(entries[:5:5], entries[6]), [][4]uint32{{322, 4, 1, side}, {323, 4, 1, side}, {324, 4, 1, 8}, {325, 4, 1, uint32(len(data))}}...)
	}
	b = le.AppendUint16(b, uint16(n))
	for _, e := range entries {
		b = le.AppendUint16(le.AppendUint16(b, uint16(e[0])), uint16(e[1]))
		b = le.AppendUint32(le.AppendUint32(b, e[2]), e[3])
	}
	return append(b, 0, 0, 0, 0, 8, 0, 8, 0, 8, 0)
}

// jpegHead promises a picture in three full channels (ITU-T T.81, section B.2.2).
func jpegHead(frame byte, side uint16) []byte {
	b := append([]byte("\xff\xd8\xff"), frame, 0, 17, 8)
	b = binary.BigEndian.AppendUint16(binary.BigEndian.AppendUint16(b, side), side)
	b = append(b, 3, 1, 0x11, 0, 2, 0x11, 0, 3, 0x11, 0)
	return append(b, "\xff\xda\x00\x0c\x03\x01\x00\x02\x11\x03\x11\x00\x3f\x00"+strings.Repeat("\x00", 100)...)
}

// lossless is the head of a WebP of 16 384 pixels a side (RFC 9649, section 3.4).
func lossless() []byte {
	body := binary.LittleEndian.AppendUint32([]byte{0x2f}, 1<<14-1|(1<<14-1)<<14)
	body = append(body, make([]byte, 99)...)
	b := binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(12+len(body)))
	b = binary.LittleEndian.AppendUint32(append(b, "WEBPVP8L"...), uint32(len(body)))
	return append(b, body...)
}

// stretched is a HEIC file whose picture claims another size (ISO/IEC 23008-12,
// section 6.5.3: ispe).
func stretched(t *testing.T) []byte {
	t.Helper()
	data, err := os.ReadFile("../photo/testdata/srgb.heic")
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; ; {
		at := bytes.Index(data[i:], []byte("ispe"))
		if at < 0 {
			return data
		}
		i += at + 8
		binary.BigEndian.PutUint32(data[i:], 60000)
		binary.BigEndian.PutUint32(data[i+4:], 60000)
	}
}

// Small files that would fill the memory are refused by one clear line, or read
// without what fills it; what is held is watched while they are.
func TestPictureBombs(t *testing.T) {
	r := run(t)
	flat := packed(3 * 6000 * 6000)
	row := func(side, bytes int) int { return side * (side*bytes + 1) }
	for name, data := range map[string][]byte{
		"huge.png":     pngOf(60000, 8, 2, pngChunk("IDAT", packed(1<<20))),
		"flat.png":     pngOf(10000, 8, 0, pngChunk("IDAT", packed(row(10000, 1)))),
		"deep.png":     pngOf(4300, 16, 6, pngChunk("IDAT", packed(row(4300, 8)))),
		"profile.png":  pngOf(64, 8, 0, pngChunk("iCCP", append([]byte("x\x00\x00"), packed(64<<20)...)), pngChunk("IDAT", packed(row(64, 1)))),
		"text.png":     pngOf(64, 8, 0, pngChunk("zTXt", append([]byte("x\x00\x00"), packed(64<<20)...)), pngChunk("IDAT", packed(row(64, 1)))),
		"side.jpg":     jpegHead(0xc0, 65535),
		"large.jpg":    jpegHead(0xc0, 14000),
		"slow.jpg":     jpegHead(0xc2, 14000),
		"huge.webp":    lossless(),
		"strip.tif":    tiffOf(6000, flat, false),
		"tile.tif":     tiffOf(6000, flat, true),
		"promised.tif": tiffOf(60000, packed(1<<20), false),
		"huge.heic":    stretched(t),
	} {
		if len(data) > 1<<20 {
			t.Fatalf("%s: %d bytes", name, len(data))
		}
		before, peak := watchHeap()
		got, text := r.raw(r.post("/photo?name="+name, string(data)))
		held := peak() - before
		t.Logf("%-13s %7d bytes: %d %.90s (held %d MB)", name, len(data), got.StatusCode, text, held>>20)
		harmless := name == "profile.png" || name == "text.png"
		if got.StatusCode != 422 && got.StatusCode != 413 && !(harmless && got.StatusCode == 200) || strings.Contains(text, "\n") || len(text) > 400 {
			t.Errorf("%s: %d %s", name, got.StatusCode, text)
		}
		if held > bombMemory {
			t.Errorf("%s held %d MB, bound %d", name, held>>20, bombMemory>>20)
		}
	}
}

// watchHeap samples what the heap holds, garbage included.
func watchHeap() (before int, peak func() int) {
	runtime.GC()
	objects := func() int {
		s := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
		metrics.Read(s)
		return int(s[0].Value.Uint64())
	}
	before = objects()
	stop, most := make(chan struct{}), make(chan int)
	go func() {
		top := before
		for {
			top = max(top, objects())
			select {
			case <-stop:
				most <- max(top, objects())
				return
			case <-time.After(time.Millisecond):
			}
		}
	}()
	return before, func() int { close(stop); return <-most }
}

// Nothing in a question makes more of it than it holds: every list and every
// name has its bound, and a number is a number.
func TestQuestionBombs(t *testing.T) {
	r := run(t)
	scene := func(with string) string {
		return `{"scene": {"tolerance": 3, "light": "D65", "targets": [` + with + `]}}`
	}
	target := func(i int) string {
		return `{"name": "n` + strings.Repeat("i", i) + `", "colour": "#7a8c5a", "area": 1}`
	}
	var many []string
	for i := range mostTargets + 1 {
		many = append(many, `{"name": "`+strings.Repeat("x", i%7)+string(rune('a'+i%26))+strings.Repeat("y", i/26)+`", "colour": "#7a8c5a", "area": 1}`)
	}
	deep := strings.Repeat(`[`, 200_000)
	for name, c := range map[string][2]string{
		"unknown field":    {"/answer", `{"scene": {}, "file": "/etc/passwd"}`},
		"nesting":          {"/answer", `{"scene": ` + deep},
		"nested lists":     {"/answer", `{"scene": {"limits": {"atMostOne": ` + deep},
		"many targets":     {"/answer", scene(strings.Join(many, ","))},
		"many to keep":     {"/scenes", `{"from": ` + scene(strings.Join(many, ",")) + `}`},
		"long name":        {"/answer", scene(target(mostLetters))},
		"long list":        {"/answer", `{"scene": {"tolerance": 3, "light": "D65", "limits": {"never": ["x"` + strings.Repeat(`,"x"`, mostEntries) + `]}}}`},
		"too large":        {"/answer", scene(`{"name": "a", "colour": "#7a8c5a", "area": 1e999}`)},
		"not a number":     {"/answer", scene(`{"name": "a", "colour": "#7a8c5a", "area": NaN}`)},
		"infinite":         {"/answer", scene(`{"name": "a", "colour": "lab(Inf 0 0)", "area": 1}`)},
		"colour NaN":       {"/answer", scene(`{"name": "a", "colour": "lab(NaN 0 0)", "area": 1}`)},
		"colour 1e400":     {"/mix", `{"light": "D65", "colour": "lab(1e400 0 0)", "palette": ["titanium-white"]}`},
		"negative":         {"/answer", scene(`{"name": "a", "colour": "#7a8c5a", "area": -1}`)},
		"pile of NaN":      {"/pile", `{"light": "D65", "pile": [{"tube": "ultramarine-blue", "parts": 1e400}]}`},
		"pile of infinity": {"/pile", `{"light": "D65", "pile": [{"tube": "ultramarine-blue", "parts": 1e308}]}`},
		"let down thrice":  {"/pile", `{"light": "D65", "pile": [{"tube": "viridian", "in": "titanium-white", "ratio": 10, "times": 1000000000, "parts": 1}]}`},
		"let down in none": {"/pile", `{"light": "D65", "pile": [{"tube": "viridian", "in": "titanium-white", "ratio": -1, "times": 1, "parts": 1}]}`},
		"a pile of all":    {"/got", `{"light": "D65", "colour": "#7a8c5a", "pile": [` + bounded.Many(mostIngredients, `{"tube": "%d", "parts": 1},`) + `{"tube": "viridian", "parts": 1}]}`},
		"a wall":           {"/pack", `{"scene": {"tolerance": 3, "light": "D65", "targets": [{"name": "a", "colour": "#7a8c5a", "area": 1}]}, "palette": ["viridian"], "size": [30, 40], "coats": 1000000}`},
		"two questions":    {"/colours", `{"text": "#7a8c5a"} {"text": "#7a8c5a"}`},
		"no question":      {"/colours", ``},
		"a list":           {"/colours", `[]`},
		"a wrong type":     {"/pick", `{"photo": {"a": 1}}`},
		"many colours":     {"/colours", `{"text": "` + strings.Repeat("#7a8c5a;", 100_000) + `"}`},
		"many suggested":   {"/suggest", `{"photos": [{"id": "x"}], "targets": 1000000}`},
		"many sampled":     {"/suggest", `{"photos": [{"id": "a"}` + bounded.Many(mostPhotos, `,{"id": "%d"}`) + `], "targets": 8}`},
		"sampled twice":    {"/suggest", `{"photos": [{"id": "a"}, {"id": "b"}, {"id": "a"}], "targets": 8}`},
		"many planes":      {"/suggest", `{"photos": [{"id": "a"}], "targets": 8, "planes": ["sky=0:1"` + strings.Repeat(`,"sky=0:1"`, mostEntries) + `]}`},
		"many beside":      {"/beside", `{"scene": {}, "columns": ["no cadmium"` + strings.Repeat(`, "no cadmium"`, mostEntries) + `]}`},
		"many to own":      {"/box", `{"put": ["x"` + strings.Repeat(`,"x"`, 100_000) + `]}`},
		"many compared":    {"/compare", `{"scene": {}, "palettes": [` + strings.TrimSuffix(strings.Repeat(`{},`, 7), ",") + `]}`},
		"many tubes":       {"/mix", `{"light": "D65", "colour": "#7a8c5a", "palette": ["x"` + strings.Repeat(`,"x"`, 100_000) + `]}`},
	} {
		got, text := r.raw(r.post(c[0], c[1]))
		if got.StatusCode != 400 || strings.Contains(text, "\n") || len([]rune(text)) > 400 || text == "" {
			t.Errorf("%s: %d %.500q", name, got.StatusCode, text)
		}
	}
	s := state{Targets: make([]stateTarget, mostTargets)}
	if err := s.bounded(); err != nil {
		t.Errorf("%d targets: %v", mostTargets, err)
	}
}

// A text of empty objects unfolds to much more than itself: however many ask at
// once, few of them are unfolded.
func TestUnfoldingFlood(t *testing.T) {
	r := run(t)
	many := strings.TrimSuffix(strings.Repeat("{},", (mostText-100)/3), ",")
	scene := "format = 1\n" + bounded.Many(24_000, "[[target]]\nname = \"%d\"\ncolour = \"#fff\"\n")
	before, peak := watchHeap()
	const askers = 48
	done := make(chan struct{})
	for i := range askers {
		path, list := "/answer", `{"scene": {"targets": [`+many+`]}}`
		switch i % 3 {
		case 1:
			path, list = "/suggest", `{"targets": 8, "photos": [`+many+`]}`
		case 2:
			path, list = "/open?name=s.toml", scene
		}
		go func() {
			defer func() { done <- struct{}{} }()
			if got, text := r.raw(r.post(path, list)); got.StatusCode != 400 {
				t.Errorf("%s: %d %.200s", path, got.StatusCode, text)
			}
		}()
	}
	for range askers {
		<-done
	}
	held := peak() - before
	t.Logf("%d at once held %d MB", askers, held>>20)
	if held > unfoldedMemory {
		t.Errorf("%d at once held %d MB, bound %d", askers, held>>20, unfoldedMemory>>20)
	}
}
