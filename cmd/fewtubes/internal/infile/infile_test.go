package infile

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"fewtubes/gamut/bounded"
)

// What is read is the file, and of a longer one as much as tells it.
func TestReadsAsMuchAsIsWanted(t *testing.T) {
	path := filepath.Join(t.TempDir(), "file")
	for _, size := range []int{0, 1, HeadSize - 1, HeadSize, HeadSize + 1, 3 * HeadSize} {
		data := bytes.Repeat([]byte("marsh"), size)[:size]
		if err := os.WriteFile(path, data, 0o644); err != nil {
			t.Fatal(err)
		}
		for _, most := range []int{1, HeadSize - 1, HeadSize, 2 * HeadSize, 4 * HeadSize} {
			want := data[:min(size, most+1)]
			if got, err := Read(path, int64(most)); err != nil || !bytes.Equal(got, want) {
				t.Errorf("%d bytes, at most %d: %d read, %v", size, most, len(got), err)
			}
		}
	}
	if _, err := Read(t.TempDir(), 10); !errors.As(err, new(*os.PathError)) {
		t.Errorf("a folder: %v", err)
	}
}

// A stream without an end that is not wanted costs no more than its head.
func TestUnwantedCostsNothing(t *testing.T) {
	if _, err := os.Stat("/dev/zero"); err != nil {
		t.Skip(err)
	}
	unwanted := errors.New("unwanted")
	bounded.Within(t, 1<<20, func() {
		_, err := ReadIf("/dev/zero", 512<<20, func(head []byte) error {
			if len(head) != HeadSize || !bytes.Equal(head, make([]byte, HeadSize)) {
				t.Errorf("%d bytes of head", len(head))
			}
			return unwanted
		})
		if !errors.Is(err, unwanted) {
			t.Error(err)
		}
	})
}
