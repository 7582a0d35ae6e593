package page

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/kept"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/testdata"
)

// keeper is a page over a folder of scenes, asked as its own scripts ask.
type keeper struct {
	testing.TB
	dir    string
	server *httptest.Server
}

// keeperOver starts a page over a folder, as a program started again would.
func keeperOver(t testing.TB, dir string) *keeper {
	t.Helper()
	stock, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	scenes, err := kept.Open(dir, Form)
	if err != nil {
		t.Fatal(err)
	}
	k := &keeper{t, dir, httptest.NewServer(New(stock, "127.0.0.1", scenes).Handler())}
	t.Cleanup(k.server.Close)
	return k
}

func (k *keeper) ask(method, path string, body any) (int, []byte) {
	k.Helper()
	data, err := json.Marshal(body)
	if err != nil {
		k.Fatal(err)
	}
	status, _, text := send(k, k.server, method, path, data, func(r *http.Request) { r.Header.Set("Origin", k.server.URL) })
	return status, text
}

func (k *keeper) want(method, path string, body any, status int, into any) {
	k.Helper()
	got, text := k.ask(method, path, body)
	if got != status {
		k.Fatalf("%s %s: %d %.300s", method, path, got, text)
	}
	if into != nil {
		if err := json.Unmarshal(text, into); err != nil {
			k.Fatal(err)
		}
	}
}

type keptDocument struct {
	ID         string
	Revision   int
	Scene      map[string]any
	Undo, Redo string
	Note       string
}

func (k *keeper) made(from any) keptDocument {
	k.Helper()
	var id struct{ ID string }
	k.want("POST", "/scenes", map[string]any{"from": from}, 200, &id)
	return k.read(id.ID)
}

func (k *keeper) read(id string) (d keptDocument) {
	k.Helper()
	k.want("GET", "/scenes/"+id, nil, 200, &d)
	return d
}

func (k *keeper) put(d keptDocument, act string, base, status int) (out keptDocument) {
	k.Helper()
	k.want("PUT", "/scenes/"+d.ID, map[string]any{"base": base, "act": act, "scene": d.Scene, "tab": "one"}, status, &out)
	return out
}

// The demo, as kept, is the demo: its file with its comments, its pictures beside
// it, so that the commands read the folder as they read any.
func TestDemoIsKeptWhole(t *testing.T) {
	k := keeperOver(t, t.TempDir())
	d := k.made("demo")
	folder := filepath.Join(k.dir, "scenes", d.ID)
	sc, err := scene.Read(filepath.Join(folder, "scene.toml"))
	if err != nil {
		t.Fatal(err)
	}
	text, _ := os.ReadFile(filepath.Join(folder, "scene.toml"))
	if !bytes.Contains(text, []byte("# Sky: nearly a quarter")) && !bytes.Contains(text, []byte("---- Sky")) {
		t.Error("the comments are gone")
	}
	want, err := scene.Parse("demo", testdata.SaltMarsh)
	if err != nil {
		t.Fatal(err)
	}
	if len(sc.Photos) != len(want.Photos) || len(sc.Targets) != len(want.Targets) || d.Scene["title"] != want.Title {
		t.Errorf("%d photographs, %d colours", len(sc.Photos), len(sc.Targets))
	}
	for i, p := range sc.Photos {
		data, err := os.ReadFile(filepath.Join(folder, filepath.FromSlash(p.File)))
		first, _ := testdata.Pictures.ReadFile(want.Photos[i].File)
		if err != nil || !bytes.Equal(data, first) {
			t.Errorf("%s: %v", p.File, err)
		}
	}
}

// Photographs outlive the program: shown, picked from and small after it, too.
func TestPhotographsOutliveTheProgram(t *testing.T) {
	dir := t.TempDir()
	k := keeperOver(t, dir)
	d := k.made("empty")
	status, _, text := send(t, k.server, "POST", "/photo?name=wide.jpg&scene="+d.ID, demoPicture(t), nil)
	var put struct{ ID, File string }
	if err := json.Unmarshal(text, &put); status != 200 || err != nil {
		t.Fatalf("%d %s", status, text)
	}
	ask := func(k *keeper) (out [3][]byte) {
		t.Helper()
		for i, path := range []string{"/photo/" + put.ID, "/thumb/" + put.ID, "/pick"} {
			method := "GET"
			if i == 2 {
				method = "POST"
			}
			status, got := k.ask(method, path, map[string]any{"photo": put.ID, "x": 0.4, "y": 0.5, "radius": 0.02})
			if status != 200 {
				t.Errorf("%s: %d %s", path, status, got)
			}
			out[i] = got
		}
		return out
	}
	before, after := ask(k), ask(keeperOver(t, dir))
	for i := range before {
		if !bytes.Equal(before[i], after[i]) {
			t.Errorf("%d: not the same after a restart", i)
		}
	}
	if status, text := k.ask("GET", "/photo/0000000000000000", nil); status != 404 {
		t.Errorf("%d %s", status, text)
	}
}

func demoPicture(t testing.TB) []byte {
	t.Helper()
	data, err := testdata.Pictures.ReadFile("salt-marsh/wide.jpg")
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// Acts are taken back and done again by name after a restart, fields that only the
// page knows among them.
func TestActsOutliveTheProgram(t *testing.T) {
	dir := t.TempDir()
	k := keeperOver(t, dir)
	d := k.made("demo")
	d.Scene["title"], d.Scene["held"] = "Flood", []any{map[string]any{"name": "six", "tubes": []any{"ivory-black"}}}
	k.put(d, "renamed the scene", 1, 200)
	k = keeperOver(t, dir)
	now := k.read(d.ID)
	if now.Undo != "renamed the scene" || now.Scene["title"] != "Flood" || now.Scene["held"] == nil {
		t.Errorf("%q %v", now.Undo, now.Scene["title"])
	}
	k.want("POST", "/scenes/"+d.ID+"/undo", map[string]string{}, 200, &now)
	k = keeperOver(t, dir)
	k.want("POST", "/scenes/"+d.ID+"/redo", map[string]string{}, 200, &now)
	if now.Scene["title"] != "Flood" || now.Revision != 4 {
		t.Errorf("%v %d", now.Scene["title"], now.Revision)
	}
}

// The second of two tabs on one revision is told, with the scene as it is, and
// nothing of the first is lost.
func TestTwoTabsOneRevision(t *testing.T) {
	k := keeperOver(t, t.TempDir())
	d := k.made("demo")
	d.Scene["title"] = "First"
	k.put(d, "first", 1, 200)
	d.Scene["title"] = "Second"
	if now := k.put(d, "second", 1, 409); now.Revision != 2 || now.Scene["title"] != "First" {
		t.Errorf("%d %v", now.Revision, now.Scene["title"])
	}
}

// A scene file changed outside is followed at once, with the page's own fields as
// they were, and the version before is an act away.
func TestChangedOutsideIsFollowed(t *testing.T) {
	k := keeperOver(t, t.TempDir())
	d := k.made("demo")
	d.Scene["held"] = []any{map[string]any{"name": "six", "tubes": []any{"ivory-black"}}}
	d = k.put(d, "set a palette aside", 1, 200)
	next := k.follows(d.ID)
	if c := next(); c.Revision != 2 {
		t.Error(c)
	}
	file := filepath.Join(k.dir, "scenes", d.ID, "scene.toml")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, bytes.Replace(text, []byte("Salt marsh at ebb tide\""), []byte("Neap\""), 1), 0o600); err != nil {
		t.Fatal(err)
	}
	if c := next(); c.Revision != 3 || c.Tab != "" {
		t.Error(c)
	}
	now := k.read(d.ID)
	photos := fmt.Sprint(now.Scene["photos"])
	if now.Scene["title"] != "Neap" || now.Scene["held"] == nil || photos != fmt.Sprint(d.Scene["photos"]) || now.Undo != "changed outside fewtubes" {
		t.Errorf("%v %q %v", now.Scene["title"], now.Undo, photos)
	}
	k.want("POST", "/scenes/"+d.ID+"/undo", map[string]string{"tab": "two"}, 200, &now)
	if now.Scene["title"] != d.Scene["title"] {
		t.Error(now.Scene["title"])
	}
	if c := next(); c.Revision != 4 || c.Tab != "two" {
		t.Error(c)
	}
}

// follows reads the changes of a scene as its tabs hear them.
func (k *keeper) follows(id string) func() kept.Change {
	k.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	k.Cleanup(cancel)
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, k.server.URL+"/scenes/"+id+"/follow", nil)
	if err != nil {
		k.Fatal(err)
	}
	got, err := http.DefaultClient.Do(r)
	if err != nil {
		k.Fatal(err)
	}
	k.Cleanup(func() { got.Body.Close() })
	lines := bufio.NewScanner(got.Body)
	return func() (c kept.Change) {
		k.Helper()
		for lines.Scan() {
			if data, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				if err := json.Unmarshal([]byte(data), &c); err != nil {
					k.Fatal(err)
				}
				return c
			}
		}
		k.Fatal("the stream ended")
		return c
	}
}

// What is forgotten is gone from memory, too, and no browser keeps a picture.
func TestForgottenIsGone(t *testing.T) {
	k := keeperOver(t, t.TempDir())
	d := k.made("demo")
	photo := d.Scene["photos"].([]any)[0].(map[string]any)["id"].(string)
	status, head, _ := send(t, k.server, "GET", "/photo/"+photo, nil, nil)
	if status != 200 || head.Get("Cache-Control") != "no-store" {
		t.Error(status, head)
	}
	k.want("POST", "/scenes/"+d.ID+"/remove", nil, 200, nil)
	var list struct{ Scenes, Removed []kept.Summary }
	k.want("GET", "/scenes", nil, 200, &list)
	if len(list.Scenes) != 0 || len(list.Removed) != 1 || len(list.Removed[0].Thumbs) != 2 {
		t.Fatalf("%+v", list)
	}
	k.want("POST", "/scenes/"+d.ID+"/restore", nil, 200, nil)
	copied := k.made(d.ID)
	if copied.Scene["title"] != "Salt marsh at ebb tide, copy" || copied.Undo != "" {
		t.Error(copied.Scene["title"], copied.Undo)
	}
	for i, id := range []string{d.ID, copied.ID} {
		k.want("POST", "/scenes/"+id+"/forget", nil, 200, nil)
		want := []int{200, 404}[i]
		for _, path := range []string{"/photo/", "/thumb/"} {
			if status, _ := k.ask("GET", path+photo, nil); status != want {
				t.Errorf("%s after %d are forgotten: %d", path, i+1, status)
			}
		}
	}
	left, _ := filepath.Glob(filepath.Join(k.dir, "*", "*"))
	if len(left) != 0 {
		t.Error(left)
	}
}

// A wrong question about a scene gets one line, and changes nothing.
func TestWrongScenes(t *testing.T) {
	k := keeperOver(t, t.TempDir())
	d := k.made("demo")
	for _, c := range []struct {
		method, path string
		body         any
		want         int
	}{
		{"POST", "/scenes", map[string]any{"from": "nowhere"}, 404},
		{"POST", "/scenes", map[string]any{"from": "../x"}, 404},
		{"POST", "/scenes", map[string]any{"from": 3}, 400},
		{"POST", "/scenes", map[string]any{"from": map[string]any{"toml": "format = 2"}}, 400},
		{"POST", "/scenes", map[string]any{"from": map[string]any{"scene": []int{1}}}, 400},
		{"GET", "/scenes/none", nil, 404},
		{"GET", "/scenes/none/follow", nil, 404},
		{"POST", "/scenes/none/undo", map[string]any{}, 404},
		{"POST", "/scenes/none/forget", nil, 404},
		{"PUT", "/scenes/" + d.ID, map[string]any{"base": 0, "scene": map[string]any{}}, 400},
		{"PUT", "/scenes/" + d.ID, map[string]any{"base": 1, "scene": "x"}, 400},
		{"PUT", "/scenes/" + d.ID, map[string]any{"base": 1}, 400},
		{"PUT", "/scenes/" + d.ID, map[string]any{"base": 1, "scene": map[string]any{"targets": make([]struct{}, mostTargets+1)}}, 400},
		{"PUT", "/scenes/none", map[string]any{"base": 1, "scene": map[string]any{}}, 404},
	} {
		if status, text := k.ask(c.method, c.path, c.body); status != c.want || len(text) == 0 || bytes.ContainsAny(text, "\n") || bytes.Contains(text, []byte(k.dir)) {
			t.Errorf("%s %s %v: %d %s", c.method, c.path, c.body, status, text)
		}
	}
	if now := k.read(d.ID); now.Revision != 1 {
		t.Error(now.Revision)
	}
}
