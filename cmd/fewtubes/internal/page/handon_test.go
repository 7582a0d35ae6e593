package page

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"image/jpeg"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/kept"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/testdata"
)

// telling is the demo's picture as a camera may write it: turned on its side (Exif
// 2.3, tag 0x0112, value 6), with words where the place, the time and the device
// stand, a comment, a text of other software and something behind its end.
func telling(t testing.TB) []byte {
	t.Helper()
	data := demoPicture(t)
	order := binary.LittleEndian
	tiff := []byte{'I', 'I', 42, 0, 8, 0, 0, 0, 1, 0}
	for _, v := range []uint16{0x0112, 3} {
		tiff = order.AppendUint16(tiff, v)
	}
	tiff = order.AppendUint32(order.AppendUint32(order.AppendUint32(tiff, 1), 6), 0)
	segment := func(marker byte, text string) []byte {
		return append(binary.BigEndian.AppendUint16([]byte{0xff, marker}, uint16(len(text)+2)), text...)
	}
	out := slices.Clone(data[:2])
	out = append(out, segment(0xe1, "Exif\x00\x00"+string(tiff)+"TELLING device 54.1N 2026:08:14")...)
	out = append(out, segment(0xe1, "a packet of other software: TELLING place")...)
	out = append(out, segment(0xfe, "TELLING comment")...)
	return append(append(out, data[2:]...), "TELLING behind the end"...)
}

func unzip(t testing.TB, data []byte) map[string][]byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]byte{}
	for _, f := range z.File {
		if !f.Modified.IsZero() && f.Modified.Year() > 1980 {
			t.Errorf("%s bears the time %v", f.Name, f.Modified)
		}
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if out[f.Name], err = io.ReadAll(r); err != nil {
			t.Fatal(err)
		}
	}
	return out
}

// A scene handed on has its colours, pictures and palettes set aside, and tells
// nothing of its painter; opened elsewhere it is the same scene.
func TestHandedOn(t *testing.T) {
	k := keeperOver(t, t.TempDir())
	d := k.made("demo")
	_, _, text := send(t, k.server, "POST", "/photo?name=IMG_20260814_183312.jpg&scene="+d.ID, telling(t), nil)
	var put struct{ ID string }
	if err := json.Unmarshal(text, &put); err != nil {
		t.Fatalf("%s", text)
	}
	d.Scene["photos"] = append(d.Scene["photos"].([]any), map[string]any{"name": "IMG_20260814_183312", "file": "IMG_20260814_183312.jpg", "id": put.ID})
	d.Scene["targets"] = append(d.Scene["targets"].([]any), map[string]any{"name": "side", "colour": "#7a8c5a", "area": 1,
		"at": map[string]any{"photo": "IMG_20260814_183312", "x": 0.5, "y": 0.5, "radius": 0.01}})
	d.Scene["held"] = []any{map[string]any{"name": "six", "tubes": []any{"ivory-black", "yellow-ochre"}}}
	limits := d.Scene["limits"].(map[string]any)
	limits["own"], limits["only"], limits["budget"] = []any{"ivory-black"}, []any{"ivory-black", "viridian"}, 61.5
	k.put(d, "brought a photograph", 1, 200)
	if err := os.WriteFile(filepath.Join(k.dir, "box.toml"), []byte("# the box\n"), 0o600); err != nil {
		t.Fatal(err)
	}

	status, got := k.ask("GET", "/scenes/"+d.ID+"/hand-on.zip", nil)
	if status != http.StatusOK {
		t.Fatalf("%d %s", status, got)
	}
	files := unzip(t, got)
	for name, data := range files {
		for _, tells := range []string{"TELLING", "2026", "Exif", "IMG_", "the box", "61.5", "viridian"} {
			if bytes.Contains(data, []byte(tells)) || strings.Contains(name, tells) {
				t.Errorf("%s holds %q", name, tells)
			}
		}
	}
	if len(files) != 5 {
		t.Error(len(files))
	}
	turned, err := jpeg.DecodeConfig(bytes.NewReader(files["pictures/3.jpg"]))
	first, _ := jpeg.DecodeConfig(bytes.NewReader(demoPicture(t)))
	if err != nil || turned.Width*first.Width != turned.Height*first.Height && turned.Width > turned.Height {
		t.Errorf("%v %dx%d of %dx%d", err, turned.Width, turned.Height, first.Width, first.Height)
	}
	if _, again := k.ask("GET", "/scenes/"+d.ID+"/hand-on.zip", nil); !bytes.Equal(got, again) {
		t.Error("not the same bytes again")
	}
	_, all := k.ask("GET", "/scenes/"+d.ID+"/hand-on.zip?box=1", nil)
	with := unzip(t, all)
	if string(with["box.toml"]) != "# the box\n" || !bytes.Contains(with["scene.toml"], []byte("61.5")) {
		t.Errorf("the box was asked for: %s", with["box.toml"])
	}

	other := keeperOver(t, t.TempDir())
	_, _, text = send(t, other.server, "POST", "/open?name=marsh.zip", got, nil)
	var id struct{ ID string }
	if err := json.Unmarshal(text, &id); err != nil {
		t.Fatalf("%s", text)
	}
	opened := other.read(id.ID)
	if fmt.Sprint(opened.Scene["held"]) != fmt.Sprint(d.Scene["held"]) || len(opened.Scene["targets"].([]any)) != 25 {
		t.Errorf("%v", opened.Scene["held"])
	}
	for _, p := range opened.Scene["photos"].([]any) {
		id, _ := p.(map[string]any)["id"].(string)
		if status, text := other.ask("GET", "/photo/"+id, nil); status != 200 {
			t.Errorf("%v: %d %s", p, status, text)
		}
	}
	if _, again := other.ask("GET", "/scenes/"+id.ID+"/hand-on.zip", nil); !bytes.Equal(unzip(t, again)["scene.toml"], files["scene.toml"]) {
		t.Error("handed on again it is another scene")
	}
}

// Saved as a file, a scene is the file it was opened from, comments and all.
func TestSavedAsFile(t *testing.T) {
	k := keeperOver(t, t.TempDir())
	status, text := k.ask("GET", "/scenes/"+k.made("demo").ID+"/scene.toml", nil)
	sc, err := scene.Parse("saved", text)
	if status != 200 || err != nil || !bytes.Contains(text, []byte("# a marsh is windy")) || sc.Photos[0].File != "wide.jpg" {
		t.Errorf("%d %v %.200s", status, err, text)
	}
	_, _, got := send(t, k.server, "POST", "/open?name=marsh.toml", testdata.SaltMarsh, nil)
	var id struct{ ID string }
	if err := json.Unmarshal(got, &id); err != nil {
		t.Fatalf("%s", got)
	}
	if _, text := k.ask("GET", "/scenes/"+id.ID+"/scene.toml", nil); !bytes.Equal(text, testdata.SaltMarsh) {
		t.Error("not the file it was")
	}
	if status, text := k.ask("GET", "/scenes/"+k.made("empty").ID+"/scene.toml", nil); status != 400 || bytes.Contains(text, []byte("\n")) {
		t.Errorf("%d %s", status, text)
	}
}

func zipped(t testing.TB, files map[string][]byte) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, data := range files {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write(data)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// zippedTwice has two scenes.
func zippedTwice(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for range 2 {
		if _, err := z.Create(kept.HandedScene); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// What is no scene that was handed on gets one line, and nothing of it is kept.
func TestWrongHandedOn(t *testing.T) {
	k := keeperOver(t, t.TempDir())
	text := "format = 1\ntitle = \"a\"\n[[photo]]\nname = \"p\"\nfile = \"%s\"\n[[target]]\nname = \"t\"\ncolour = \"#7a8c5a\"\n"
	with := func(file string) []byte { return []byte(fmt.Sprintf(text, file)) }
	many := map[string][]byte{kept.HandedScene: with("p.jpg")}
	for i := range mostEntries {
		many[fmt.Sprint(i)] = nil
	}
	for name, data := range map[string][]byte{
		"cut short":        zipped(t, map[string][]byte{kept.HandedScene: with("p.jpg")})[:60],
		"no scene":         zipped(t, map[string][]byte{"p.jpg": demoPicture(t)}),
		"no picture":       zipped(t, map[string][]byte{kept.HandedScene: with("p.jpg"), "p.jpg": []byte("not one")}),
		"a long scene":     zipped(t, map[string][]byte{kept.HandedScene: bytes.Repeat([]byte("#"), mostText+1)}),
		"a large picture":  zipped(t, map[string][]byte{kept.HandedScene: with("p.jpg"), "p.jpg": make([]byte, mostUpload+1)}),
		"many files":       zipped(t, many),
		"a scene twice":    zippedTwice(t),
		"strange palettes": zipped(t, map[string][]byte{kept.HandedScene: with("p.jpg"), kept.HandedAside: []byte(`{"held": [], "more": 1}`)}),
		"long palettes":    zipped(t, map[string][]byte{kept.HandedScene: with("p.jpg"), kept.HandedAside: []byte(`{"held": [{"name": "` + strings.Repeat("x", mostLetters+1) + `"}]}`)}),
		"no file":          []byte("PK"),
		"no scene file":    []byte("title"),
	} {
		status, _, said := send(t, k.server, "POST", "/open?name=a.zip", data, nil)
		if status < 400 || status >= 500 || bytes.ContainsAny(said, "\n") || len(said) == 0 {
			t.Errorf("%s: %d %q", name, status, said)
		}
	}
	// A name that climbs is only ever a name.
	status, _, said := send(t, k.server, "POST", "/open?name=a.zip", zipped(t, map[string][]byte{kept.HandedScene: with("../../../p.jpg"), "../../../p.jpg": demoPicture(t)}), nil)
	if status != 200 {
		t.Errorf("%d %s", status, said)
	}
	left, _ := filepath.Glob(filepath.Join(k.dir, "scenes", "*"))
	out, _ := filepath.Glob(filepath.Join(k.dir, "..", "*.jpg"))
	if len(left) != 1 || len(out) != 0 {
		t.Error(left, out)
	}
}
