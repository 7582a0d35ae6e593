package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/scene"
)

// command runs the program in this process.
func command(args ...string) (stdout, stderr string, code int) {
	var out, errs bytes.Buffer
	code = run(context.Background(), append([]string{"fewtubes"}, args...), &out, &errs)
	return out.String(), errs.String(), code
}

const wide = "../../testdata/salt-marsh/wide.jpg"

// Sampling writes a scene that reads back, names its picture from where the
// scene lies, and is the same to the byte the second time.
func TestSampleCommand(t *testing.T) {
	folder := t.TempDir()
	picture, err := os.ReadFile(wide)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(folder, "pictures"), 0o755); err != nil {
		t.Fatal(err)
	}
	from := filepath.Join(folder, "pictures", "wide marsh.jpg")
	if err := os.WriteFile(from, picture, 0o644); err != nil {
		t.Fatal(err)
	}
	t.Chdir(folder)
	args := []string{"sample", "pictures/wide marsh.jpg", "-n", "9", "--plane", "sky=0:0.35", "--plane", "foreground=0.6:1", "-o", "marsh.toml"}
	stdout, stderr, code := command(args...)
	if code != 0 || stderr != "" {
		t.Fatalf("code %d, %s", code, stderr)
	}
	s, err := scene.Read("marsh.toml")
	if err != nil {
		t.Fatal(err)
	}
	if s.Title != "Wide marsh" || s.Photos[0].File != "pictures/wide marsh.jpg" || len(s.Targets) != 9 || len(s.Photos[0].Planes) != 2 {
		t.Errorf("%q, %+v, %d targets", s.Title, s.Photos[0], len(s.Targets))
	}
	for _, target := range s.Targets {
		if !strings.Contains(stdout, target.Name) {
			t.Errorf("%q is not in the table", target.Name)
		}
	}
	if !strings.Contains(stdout, "--as-seen leaves them, --points sets them") && !strings.Contains(stdout, "as seen") {
		t.Error("nothing is said of the values")
	}
	first, _ := os.ReadFile("marsh.toml")
	if _, stderr, code = command(args...); code != 2 || !strings.Contains(stderr, "--force") {
		t.Errorf("overwriting: code %d, %s", code, stderr)
	}
	if again, _, code := command(append(args, "--force")...); code != 0 || again != stdout {
		t.Errorf("second run: code %d", code)
	}
	if second, _ := os.ReadFile("marsh.toml"); !bytes.Equal(first, second) {
		t.Error("the second scene differs")
	}
}

// Several photographs have planes and a crop each; sampled anew from the scene,
// with its corners, they give the same colours.
func TestSampleSeveral(t *testing.T) {
	pictures, err := filepath.Abs("../../testdata/salt-marsh")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	for _, name := range []string{"wide.jpg", "close.jpg"} {
		if err := os.Symlink(filepath.Join(pictures, name), name); err != nil {
			t.Fatal(err)
		}
	}
	stdout, stderr, code := command("sample", "wide.jpg:sky=0:0.34,distance=0.34:0.42,middle=0,0.42 1,0.42 1,0.7 0,0.8", "close.jpg:foreground=0:1", "--crop", "close.jpg=0.1,0.2,0.9,1", "-n", "12", "-o", "both.toml")
	if code != 0 || stderr != "" {
		t.Fatalf("code %d, %s", code, stderr)
	}
	s, err := scene.Read("both.toml")
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Photos) != 2 || len(s.Photos[0].Planes) != 3 || len(s.Photos[0].Planes[2].Corners) != 4 || len(s.Photos[1].Crop) != 4 {
		t.Errorf("%+v", s.Photos)
	}
	for _, target := range s.Targets {
		at := target.At
		if at == nil || at.Photo == "close" && (target.Plane != "foreground" || at.X < 0.1 || at.X > 0.9 || at.Y < 0.2) {
			t.Errorf("%s at %+v", target.Name, at)
		}
	}
	if again, stderr, code := command("sample", "both.toml", "-n", "12", "-o", "again.toml"); code != 0 || again != stdout {
		t.Errorf("code %d %s\n%s\nthen\n%s", code, stderr, stdout, again)
	}
	if first, second := read(t, "both.toml"), read(t, "again.toml"); !bytes.Equal(first, second) {
		t.Errorf("the second scene differs:\n%s", second)
	}
}

// What a user gets wrong: one line, exit 2, nothing on stdout, nothing written.
func TestSampleMistakes(t *testing.T) {
	picture, err := filepath.Abs(wide)
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	if err := os.WriteFile("diary.jpg", []byte("Today the tide was out by nine.\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(picture)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile("cut.jpg", whole[:len(whole)/2], 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{nil, "no photograph is given"},
		{[]string{"none.jpg"}, "none.jpg: no such file or folder"},
		{[]string{"diary.jpg", "-o", "s.toml"}, "diary.jpg: this is no picture that can be read here; give a JPEG, PNG, WebP, TIFF or HEIC file"},
		{[]string{"cut.jpg", "-o", "s.toml"}, "cut.jpg: the picture is damaged or cut short"},
		{[]string{picture, "-n", "0"}, "--targets 0"},
		{[]string{picture, "-n", "few"}, "few"},
		{[]string{picture, "--plane", "sky"}, "is not a plane and its heights"},
		{[]string{picture, "--plane", "front=0:1"}, `the plane "front" is none of foreground, middle, distance or sky`},
		{[]string{picture, "--plane", "sky=0.5:0.2"}, "do not run downwards"},
		{[]string{picture + ":front=0:1"}, `the plane "front" is none of foreground, middle, distance or sky`},
		{[]string{picture + ":sky=0:1.3"}, "heights 0:1.3 do not run downwards within 0 (top) to 1 (bottom); write it as in"},
		{[]string{picture + ":sky=0,0 1,0 1,1.5"}, "corner 1,1.5 lies beyond the picture"},
		{[]string{picture, picture + ":sky=0:0.3"}, "is named twice; name it once, with all of its planes"},
		{[]string{picture, "--crop", "other.jpg=0,0,1,1"}, "no photograph other.jpg is named"},
		{[]string{picture, "--crop", picture + "=0,0,1"}, "a crop has four sides, 3 found"},
		{[]string{picture, "--crop", picture + "=0.5,0,0.2,1"}, "left 0.5, top 0, right 0.2, bottom 1 are not within the picture"},
		{[]string{picture, "--crop", picture + "=0.5,0.5,0.5001,0.5001"}, "no pixel lies within its crop; crop less of it"},
		{[]string{picture, "--points", "1:2,3:4"}, "three points are wanted, 2 found; write it as in"},
		{[]string{picture, "--points", "0:2,5:5,10:9.7", "--as-seen"}, "not both"},
		{[]string{picture, "-o", "none/s.toml"}, "there is no folder none"},
		{[]string{picture, "-o", picture, "--force"}, "is also read from"},
	} {
		stdout, stderr, code := command(append([]string{"sample"}, c.args...)...)
		if code != 2 || stdout != "" || !strings.Contains(stderr, c.want) || strings.Count(stderr, "\n") != 1 {
			t.Errorf("%v: code %d\n%s\nwant %s", c.args, code, stderr, c.want)
		}
	}
	if _, err := os.Stat("s.toml"); err == nil {
		t.Error("something was written")
	}
}
