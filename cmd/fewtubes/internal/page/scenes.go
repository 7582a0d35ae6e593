package page

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"syscall"
	"time"

	"fewtubes/cmd/fewtubes/internal/kept"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/testdata"
)

// Form is how the page's scenes are kept.
var Form = kept.Form{Text: sceneText, Adopt: adoptScene}

// keptRoutes are the addresses of the scenes that are kept.
func (s *Server) keptRoutes(mux *http.ServeMux) {
	mux.HandleFunc("GET /thumb/{id}", s.showThumb)
	mux.HandleFunc("GET /here", s.here)
	mux.HandleFunc("GET /scenes", s.listScenes)
	mux.HandleFunc("POST /scenes", s.newScene)
	mux.HandleFunc("GET /scenes/{id}", s.readScene)
	mux.HandleFunc("PUT /scenes/{id}", s.putScene)
	mux.HandleFunc("POST /scenes/{id}/undo", s.step(s.scenes.Undo))
	mux.HandleFunc("POST /scenes/{id}/redo", s.step(s.scenes.Redo))
	mux.HandleFunc("POST /scenes/{id}/copy", s.copied)
	mux.HandleFunc("POST /scenes/{id}/remove", moveScene(s.scenes.Remove))
	mux.HandleFunc("POST /scenes/{id}/restore", moveScene(s.scenes.Restore))
	mux.HandleFunc("POST /scenes/{id}/forget", s.forgetScene)
	mux.HandleFunc("GET /scenes/{id}/scene.toml", s.sceneFile)
	mux.HandleFunc("GET /scenes/{id}/hand-on.zip", s.handOn)
	mux.HandleFunc("POST /open", s.openFile)
	mux.HandleFunc("GET /scenes/{id}/follow", s.follow.limit("pages open", s.followScene))
}

// sceneText is a scene of the page within the file it came from, or nil while it
// is none that a command could read.
func sceneText(raw json.RawMessage, opened []byte) []byte {
	var st state
	if json.Unmarshal(raw, &st) != nil {
		return nil
	}
	sc, err := st.scene()
	if err != nil {
		return nil
	}
	for i, p := range st.Photos {
		if p.ID != "" {
			sc.Photos[i].File = kept.PhotoFile(p.ID, p.File)
		}
	}
	if len(opened) == 0 {
		return scene.Format(sc)
	}
	text, _ := scene.Update(opened, sc)
	return text
}

// adoptScene is a scene file as the page has it, with what only the page knew of
// the scene before it.
func adoptScene(text []byte, before json.RawMessage) (json.RawMessage, error) {
	sc, err := scene.Parse("scene.toml", text)
	if err != nil {
		return nil, err
	}
	now := newState(&sc)
	if err := now.bounded(); err != nil {
		return nil, err
	}
	var was state
	more := map[string]json.RawMessage{}
	if before != nil {
		if err := errors.Join(json.Unmarshal(before, &was), json.Unmarshal(before, &more)); err != nil {
			return nil, err
		}
	}
	for i := range now.Photos {
		p := &now.Photos[i]
		for _, q := range was.Photos {
			if q.File == p.File || q.ID != "" && q.ID == kept.PhotoOf(p.File) {
				p.ID, p.File = q.ID, q.File
			}
		}
		if id := kept.PhotoOf(p.File); id != "" {
			p.ID, p.File = id, path.Base(p.File)
		}
	}
	return merged(more, now)
}

// merged lays what a scene file says over the page's own fields.
func merged(more map[string]json.RawMessage, now state) (json.RawMessage, error) {
	data, err := json.Marshal(now)
	if err != nil {
		return nil, err
	}
	for _, optional := range []string{"surface", "savedPalette", "air"} {
		delete(more, optional)
	}
	if err := json.Unmarshal(data, &more); err != nil {
		return nil, err
	}
	return json.Marshal(more)
}

// keeping says what came of keeping a scene.
func keeping(w http.ResponseWriter, doc *kept.Document, err error) {
	var file *fs.PathError
	switch {
	case errors.Is(err, kept.ErrOld):
		data, err := encoded(doc)
		if err != nil {
			fail(w, err)
			return
		}
		w.Header().Set("Content-Type", "application/json")
		w.WriteHeader(http.StatusConflict)
		_, _ = w.Write(data)
	case errors.Is(err, kept.ErrNone):
		fail(w, &trouble{http.StatusNotFound, kept.ErrNone.Error()})
	case errors.As(err, &file):
		fail(w, fullDisk(file))
	case err != nil:
		fail(w, err)
	case doc != nil:
		writeJSON(w, doc)
	default:
		writeJSON(w, struct{}{})
	}
}

// fullDisk is what keeps a scene from being written, without its path.
func fullDisk(err *fs.PathError) error {
	remedy := "what is on the page stays until it can"
	if errors.Is(err, syscall.ENOSPC) {
		remedy = "make room on the disk: " + remedy
	}
	return &trouble{http.StatusInsufficientStorage, fmt.Sprintf("the scene cannot be kept: %v; %s", err.Err, remedy)}
}

// listScenes lists what is kept, and where.
func (s *Server) listScenes(w http.ResponseWriter, _ *http.Request) {
	scenes, removed, err := s.scenes.List()
	if err != nil {
		keeping(w, nil, err)
		return
	}
	writeJSON(w, map[string]any{"scenes": scenes, "removed": removed, "path": s.scenes.Dir(), "last": s.scenes.Last()})
}

// newScene keeps a scene made of the demo, of nothing, of another, or of what was opened.
func (s *Server) newScene(w http.ResponseWriter, r *http.Request) {
	var q struct {
		From json.RawMessage `json:"from"`
	}
	if err := s.readJSON(w, r, &q); err != nil {
		fail(w, err)
		return
	}
	var id string
	err := s.unfold(r.Context(), func() (err error) {
		id, err = s.makeScene(q.From)
		return err
	})
	if err != nil {
		keeping(w, nil, err)
		return
	}
	writeJSON(w, map[string]string{"id": id})
}

func (s *Server) makeScene(from json.RawMessage) (id string, err error) {
	var word string
	if json.Unmarshal(from, &word) == nil {
		switch word {
		case "demo":
			return s.demoScene()
		case "empty":
			return s.scenes.Create("", json.RawMessage(emptyScene), nil)
		}
		return s.copyScene(word)
	}
	var given struct {
		TOML  string          `json:"toml"`
		Scene json.RawMessage `json:"scene"`
	}
	if err := strictly(from, &given); err != nil {
		return "", err
	}
	if given.Scene != nil {
		return s.createScene(given.Scene, nil)
	}
	raw, err := adoptScene([]byte(given.TOML), nil)
	if err != nil {
		return "", err
	}
	return s.createScene(raw, []byte(given.TOML))
}

const emptyScene = `{"title":"","tolerance":3,"light":"D65","limits":{},"photos":[],"targets":[]}`

func (s *Server) createScene(raw json.RawMessage, opened []byte) (id string, err error) {
	raw, title, err := checkedScene(raw)
	if err != nil {
		return "", err
	}
	return s.scenes.Create(title, raw, opened)
}

// checkedScene holds a scene to its bounds; one that is not whole yet is kept, too.
func checkedScene(raw json.RawMessage) (_ json.RawMessage, title string, err error) {
	var st state
	if err := json.Unmarshal(raw, &st); err != nil {
		return nil, "", err
	}
	if err := st.bounded(); err != nil {
		return nil, "", err
	}
	var b bytes.Buffer
	err = json.Compact(&b, raw)
	if err == nil && !bytes.HasPrefix(b.Bytes(), []byte("{")) {
		err = errors.New("a scene is an object")
	}
	return b.Bytes(), st.Title, err
}

// copyScene is a scene once more, with its photographs and without its acts.
func (s *Server) copyScene(from string) (id string, err error) {
	doc, err := s.scenes.Read(from)
	if err != nil {
		return "", err
	}
	fields := map[string]json.RawMessage{}
	if err := json.Unmarshal(doc.Scene, &fields); err != nil {
		return "", err
	}
	var title string
	_ = json.Unmarshal(fields["title"], &title)
	if fields["title"], err = json.Marshal(cmp.Or(title, "Scene") + ", copy"); err != nil {
		return "", err
	}
	raw, err := json.Marshal(fields)
	if err != nil {
		return "", err
	}
	if id, err = s.createScene(raw, nil); err != nil {
		return "", err
	}
	return id, s.scenes.CopyPhotos(from, id)
}

// demoScene is the salt marsh with its two pictures.
func (s *Server) demoScene() (id string, err error) {
	raw, err := adoptScene(testdata.SaltMarsh, nil)
	if err != nil {
		return "", err
	}
	var st state
	if err := json.Unmarshal(raw, &st); err != nil {
		return "", err
	}
	pictures := map[string][]byte{}
	for i := range st.Photos {
		p := &st.Photos[i]
		data, err := testdata.Pictures.ReadFile(p.File)
		if err != nil {
			return "", err
		}
		p.ID, p.File = photoID(data), path.Base(p.File)
		pictures[p.ID] = data
	}
	more := map[string]json.RawMessage{}
	if raw, err = merged(more, st); err != nil {
		return "", err
	}
	if id, err = s.createScene(raw, testdata.SaltMarsh); err != nil {
		return "", err
	}
	for _, p := range st.Photos {
		if err := s.scenes.KeepPhoto(id, p.ID, p.File, pictures[p.ID], nil); err != nil {
			return "", err
		}
	}
	return id, nil
}

// readScene gives a scene as it stands, and remembers that it is open.
func (s *Server) readScene(w http.ResponseWriter, r *http.Request) {
	doc, err := s.scenes.Read(r.PathValue("id"))
	if err == nil {
		s.scenes.Opened(doc.ID)
	}
	keeping(w, doc, err)
}

// putScene keeps one act.
func (s *Server) putScene(w http.ResponseWriter, r *http.Request) {
	var q struct {
		Base  int             `json:"base"`
		Act   string          `json:"act"`
		Scene json.RawMessage `json:"scene"`
		Tab   string          `json:"tab"`
		Join  bool            `json:"join"`
	}
	err := s.readJSON(w, r, &q)
	if err == nil && q.Base < 1 {
		err = errors.New("base is no revision")
	}
	if err == nil && len(q.Tab) > mostLetters {
		err = errors.New("tab is too long")
	}
	if err == nil {
		err = s.unfold(r.Context(), func() (err error) {
			q.Scene, _, err = checkedScene(q.Scene)
			return err
		})
	}
	if err != nil {
		fail(w, err)
		return
	}
	doc, err := s.scenes.Do(r.PathValue("id"), kept.Act{Base: q.Base, Words: q.Act, Scene: q.Scene, Tab: q.Tab, Join: q.Join})
	keeping(w, doc, err)
}

// step takes an act back or does it again.
func (s *Server) step(how func(id, tab string) (*kept.Document, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		var q struct {
			Tab string `json:"tab"`
		}
		if err := s.readJSON(w, r, &q); err != nil {
			fail(w, err)
			return
		}
		doc, err := how(r.PathValue("id"), q.Tab)
		keeping(w, doc, err)
	}
}

// moveScene removes a scene or brings it back.
func moveScene(how func(id string) error) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) { keeping(w, nil, how(r.PathValue("id"))) }
}

// forgetScene erases a scene and what is held of it.
func (s *Server) forgetScene(w http.ResponseWriter, r *http.Request) {
	photos, err := s.scenes.Forget(r.PathValue("id"))
	if err == nil {
		s.photos.drop(photos)
		s.paintings.drop(photos)
		s.asked.forget()
		w.Header().Set("Clear-Site-Data", `"cache"`)
	}
	keeping(w, nil, err)
}

func (s *Server) copied(w http.ResponseWriter, r *http.Request) {
	var id string
	err := s.unfold(r.Context(), func() (err error) {
		id, err = s.copyScene(r.PathValue("id"))
		return err
	})
	if err != nil {
		keeping(w, nil, err)
		return
	}
	writeJSON(w, map[string]string{"id": id})
}

// lookAgain is how often a follower looks whether another program changed a scene.
const lookAgain = time.Second

// followScene streams the revisions of a scene as they come, the one there is first.
func (s *Server) followScene(w http.ResponseWriter, r *http.Request) {
	id := r.PathValue("id")
	changes, done := s.scenes.Follow(id)
	defer done()
	stamp := s.scenes.Stamp(id) // before it is read: what changes meanwhile is seen later
	doc, err := s.scenes.Read(id)
	if err != nil {
		keeping(w, nil, err)
		return
	}
	out := &events{w: w}
	told := kept.Change{Revision: doc.Revision}
	out.send("revision", told)
	tick := time.NewTicker(lookAgain)
	defer tick.Stop()
	for {
		select {
		case c := <-changes:
			told = c
			out.send("revision", c)
			stamp = s.scenes.Stamp(id)
		case <-tick.C:
			now := s.scenes.Stamp(id)
			if now == stamp {
				continue
			}
			stamp = now
			doc, err := s.scenes.Read(id) // which tells what it takes in itself
			if err != nil {
				out.send("revision", kept.Change{})
				return
			}
			if doc.Revision > told.Revision && len(changes) == 0 {
				told = kept.Change{Revision: doc.Revision}
				out.send("revision", told)
			}
		case <-r.Context().Done():
			if errors.Is(context.Cause(r.Context()), errStopped) {
				out.send("stopped", errStopped.text)
			}
			return
		}
	}
}
