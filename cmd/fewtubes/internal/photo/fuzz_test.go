package photo

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// Whatever the bytes, a picture that is whole or an error of ours.
func FuzzDecode(f *testing.F) {
	files, err := filepath.Glob("testdata/*.*")
	if err != nil {
		f.Fatal(err)
	}
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		if !isHEIC(data) && filepath.Ext(name) != ".csv" { // the HEIC decoder takes a second to start
			f.Add(data)
		}
	}
	f.Add(oriented(f, 6))
	f.Fuzz(func(t *testing.T, data []byte) {
		kind := formatOf(data)
		if kind == nil || kind.name == "heic" {
			return
		}
		if size, err := kind.config(data); err == nil && size.Width*size.Height > 1<<20 {
			return
		}
		p, err := Decode("x", data, 16)
		if err != nil {
			if wrong := (*Error)(nil); !errors.As(err, &wrong) {
				t.Fatalf("%T %v", err, err)
			}
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
	})
}

func FuzzReadHEIF(f *testing.F) {
	for _, name := range []string{"testdata/srgb.heic", "testdata/p3.heic"} {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		info, err := readHEIF(data)
		if err == nil && (info.w <= 0 || info.h <= 0) {
			t.Fatalf("%+v", info)
		}
		_ = metadataHEIC(data)
	})
}
