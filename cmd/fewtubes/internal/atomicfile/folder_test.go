package atomicfile

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
)

func folderOf(text string) *Folder {
	return &Folder{Mark: "mark", Files: []File{{"mark", []byte(text)}, {"more", []byte(text + text)}}}
}

func TestFolderIsWrittenWhole(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "proof")
	if err := errors.Join(CheckFolder(dir, false, "mark"), CreateFolder(dir, folderOf("first"))); err != nil {
		t.Fatal(err)
	}
	holds(t, filepath.Join(dir, "more"), "firstfirst")
	for what, err := range map[string]error{"create": CreateFolder(dir, folderOf("second")), "check": CheckFolder(dir, false, "mark")} {
		if !errors.Is(err, fs.ErrExist) {
			t.Errorf("%s says %v", what, err)
		}
	}
	if err := errors.Join(CheckFolder(dir, true, "mark"), ReplaceFolder(dir, folderOf("second"))); err != nil {
		t.Fatal(err)
	}
	holds(t, filepath.Join(dir, "mark"), "second")
	leftIn(t, dir, "proof")
}

// A folder of another kind is never replaced, a file is where that was asked for, and
// what cannot be written whole leaves all as it was.
func TestFolderTakesNoOthersPlace(t *testing.T) {
	home := t.TempDir()
	other, file := filepath.Join(home, "other"), filepath.Join(home, "file")
	if err := errors.Join(os.Mkdir(other, 0o755), os.WriteFile(file, []byte("a"), 0o644)); err != nil {
		t.Fatal(err)
	}
	for _, err := range []error{ReplaceFolder(other, folderOf("x")), CreateFolder(other, folderOf("x")), CheckFolder(other, true, "mark"), CreateFolder(file, folderOf("x"))} {
		if err == nil {
			t.Error("written")
		}
	}
	broken := folderOf("x")
	broken.Files = append(broken.Files, File{"none/there", nil})
	if err := ReplaceFolder(file, broken); err == nil {
		t.Error("written in part")
	}
	holds(t, file, "a")
	if err := ReplaceFolder(file, folderOf("x")); err != nil {
		t.Fatal(err)
	}
	holds(t, filepath.Join(file, "mark"), "x")
	leftIn(t, file, "file", "other")
}

func TestExchange(t *testing.T) {
	for name, swap := range map[string]func(a, b string) error{"one step": exchange, "two": exchangeByRename} {
		home := t.TempDir()
		a, b := filepath.Join(home, "a"), filepath.Join(home, "b")
		if err := errors.Join(CreateFolder(a, folderOf("a")), os.WriteFile(b, []byte("b"), 0o644), swap(a, b)); err != nil {
			t.Fatal(name, err)
		}
		holds(t, a, "b")
		holds(t, filepath.Join(b, "mark"), "a")
		leftIn(t, a, "a", "b")
	}
	home := t.TempDir()
	a, b := filepath.Join(home, "a"), filepath.Join(home, "b")
	if err := errors.Join(os.Mkdir(a, 0o755), os.WriteFile(b, nil, 0o644)); err != nil {
		t.Fatal(err)
	}
	if err := claimByLook(a, b); !errors.Is(err, fs.ErrExist) {
		t.Error(err)
	}
}
