package page

import (
	"context"
	"encoding/json"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/owntubes"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/solver"
)

// boxed is a server whose box is kept in a file.
func boxed(t testing.TB) (server *httptest.Server, s *Server, path string) {
	t.Helper()
	stock, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(t.TempDir(), "kept", "box.toml")
	s = New(stock, "127.0.0.1", newScenes(t))
	s.KeepBox(path)
	server = httptest.NewServer(s.Handler())
	t.Cleanup(server.Close)
	return server, s, path
}

// fill asks for tubes to be put in and taken out.
func fill(t testing.TB, server *httptest.Server, body string) (status int, doc boxDoc, text string) {
	t.Helper()
	status, _, data := send(t, server, "POST", "/box", []byte(body), nil)
	if status == 200 {
		if err := json.Unmarshal(data, &doc); err != nil {
			t.Fatal(err)
		}
	}
	return status, doc, string(data)
}

// What the page puts in and takes out is the file that the commands read, and what
// its painter wrote in it stays.
func TestBoxIsItsFile(t *testing.T) {
	server, s, path := boxed(t)
	if _, doc, _ := fill(t, server, `{}`); len(doc.Owned) != 0 {
		t.Fatalf("%v", doc)
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("a file was written for nothing")
	}
	_, doc, _ := fill(t, server, `{"put": ["titanium-white", "burnt-sienna", "ultramarine-blue"]}`)
	if want := []string{"titanium-white", "burnt-sienna", "ultramarine-blue"}; !slices.Equal(doc.Owned, want) {
		t.Errorf("%v", doc.Owned)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("%v %v", info, err)
	}
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	with, _, err := owntubes.Load(path, builtin)
	if err != nil {
		t.Fatal(err)
	}
	for _, t2 := range with.Tubes() {
		now, _ := s.stock().Find(t2.ID)
		if now.Have != t2.Have || t2.Have != slices.Contains(doc.Owned, t2.ID) {
			t.Errorf("%s: %t on the page, %t for a command", t2.ID, now.Have, t2.Have)
		}
	}

	// By hand, while the program runs.
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	mine := "# from the attic\n" + string(text) + "price = 3.5  # on sale\n\n[[tube]]\nid = \"my-grey\"\npigments = [\"PB29\", \"PBr7\"]\n" +
		"mix = [{tube = \"ultramarine-blue\", parts = 3}, {tube = \"burnt-sienna\", parts = 2}]\n"
	if err := os.WriteFile(path, []byte(mine), 0o600); err != nil {
		t.Fatal(err)
	}
	_, doc, _ = fill(t, server, `{"put": ["viridian"], "take": ["ultramarine-blue"]}`)
	if want := []string{"titanium-white", "burnt-sienna", "my-grey", "viridian"}; !slices.Equal(doc.Owned, want) {
		t.Errorf("%v", doc.Owned)
	}
	text, err = os.ReadFile(path)
	for _, part := range []string{"# from the attic\n", "price = 3.5  # on sale\n", "id = \"my-grey\"", "have = false"} {
		if err != nil || !strings.Contains(string(text), part) {
			t.Errorf("%q is lost (%v):\n%s", part, err, text)
		}
	}
	if grey, ok := s.stock().Find("my-grey"); !ok || !grey.Have {
		t.Error("a tube of the painter's own is not to be had")
	}

	// A broken file says where, changes nothing, and is not written over.
	broken := string(text) + "\n[[tube]\n"
	if err := os.WriteFile(path, []byte(broken), 0o600); err != nil {
		t.Fatal(err)
	}
	status, _, line := fill(t, server, `{"put": ["cobalt-blue"]}`)
	if status != 409 || !strings.Contains(line, "box.toml") || strings.Contains(line, "\n") {
		t.Errorf("%d %s", status, line)
	}
	if text, _ = os.ReadFile(path); string(text) != broken {
		t.Error("a broken box was written over")
	}
	if grey, ok := s.stock().Find("my-grey"); !ok || !grey.Have {
		t.Error("a broken box takes the last good one away")
	}
	for _, body := range []string{`{"put": ["no such tube"]}`, `{"put": ["viridian"], "take": ["viridian"]}`, `{"put": ["x"` + strings.Repeat(`,"x"`, mostEntries) + `]}`, `{"path": "/etc"}`} {
		if status, _, line := fill(t, server, body); status < 400 || status > 499 || line == "" || strings.Contains(line, "\n") {
			t.Errorf("%.60s: %d %q", body, status, line)
		}
	}
}

// With a box the page asks for what choose with that box asks for: the fewest tubes
// to buy.
func TestBoxIsAskedOf(t *testing.T) {
	server, s, path := boxed(t)
	fill(t, server, `{"put": ["titanium-white", "yellow-ochre", "ultramarine-blue", "burnt-sienna", "cadmium-red-light"]}`)
	var q asks
	if err := json.Unmarshal([]byte(marshScene), &q); err != nil {
		t.Fatal(err)
	}
	a, err := s.asking(context.Background(), &q.Scene)
	if err != nil {
		t.Fatal(err)
	}
	session, err := a.held.session()
	if err != nil {
		t.Fatal(err)
	}
	got, err := session.ChooseWhole(context.Background(), a.problem.Limits, a.problem.Prefer, nil)
	if err != nil {
		t.Fatal(err)
	}
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	with, _, err := owntubes.Load(path, builtin)
	if err != nil {
		t.Fatal(err)
	}
	sc, err := q.Scene.scene()
	if err != nil {
		t.Fatal(err)
	}
	p := problemWithBox(&sc, with)
	want, err := solver.Choose(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if got.ToBuy == nil || *got.ToBuy != *want.ToBuy || !slices.Equal(got.Palettes[0].Tubes, want.Palettes[0].Tubes) {
		t.Errorf("%v of %v; with the command %v of %v", got.ToBuy, got.Palettes[0].Tubes, want.ToBuy, want.Palettes[0].Tubes)
	}
}

func problemWithBox(sc *scene.Scene, with *catalog.Catalogue) solver.Problem {
	p := sc.Problem(with)
	p.Limits.FewestToBuy = true
	return p
}

// Every shelf begins with a tube of the catalogue, in its order, and every tube of a
// ready box is one.
func TestShelvesHoldTheCatalogue(t *testing.T) {
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	shelves := familiesOf(builtin)
	for _, f := range families {
		if shelves[f.from] != f.words {
			t.Errorf("%s stands with the %s", f.from, shelves[f.from])
		}
	}
	for _, tube := range builtin.Tubes() {
		if shelves[tube.ID] == ownFamily {
			t.Errorf("%s has no shelf", tube.ID)
		}
	}
	for _, ready := range readyBoxes {
		if ids, err := knownTubes(builtin, ready.IDs); err != nil || !slices.Equal(ids, ready.IDs) {
			t.Errorf("%s: %v %v", ready.Words, ids, err)
		}
	}
}
