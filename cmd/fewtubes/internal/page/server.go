package page

import (
	"bytes"
	"cmp"
	"context"
	"embed"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"net/http"
	"slices"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/kept"
	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/report/printable"
	"fewtubes/testdata"
)

//go:embed static
var static embed.FS

// Server is the page and what it asks for.
type Server struct {
	box    *boxFile
	listen string // host name it listens on besides the loopback names
	lock   *lock  // nil: open to every account
	scenes *kept.Store
	photos *photoStore
	asked  *askedStore
	queue  *queue

	paintings paintedStore

	streams gate
	follow  gate
	intake  *intake

	unfolding chan struct{} // places of questions that are being read
}

// New makes the page over the tubes and the scenes given. listen is the host name or
// address of the listener, accepted in the Host header besides the loopback ones.
func New(stock *catalog.Catalogue, listen string, scenes *kept.Store) *Server {
	return &Server{
		box: newBoxFile("", stock), listen: listen, scenes: scenes,
		photos: newPhotoStore(), asked: newAskedStore(),
		queue: newQueue(computations, mostWaiting), streams: newGate(mostStreams), follow: newGate(mostFollowers), intake: &intake{most: mostIncoming},
		unfolding: make(chan struct{}, mostUnfolding),
	}
}

// KeepBox has the painter's box kept in a file, which may be there already. It goes
// before Handler.
func (s *Server) KeepBox(path string) { s.box = newBoxFile(path, s.box.from) }

// Handler is every address of the page behind its guard.
func (s *Server) Handler() http.Handler {
	mux := http.NewServeMux()
	files, err := fs.Sub(static, "static")
	if err != nil {
		panic("page: " + err.Error())
	}
	if err := serveStatic(mux, files); err != nil {
		panic("page: " + err.Error())
	}
	mux.HandleFunc("GET /demo/wide.jpg", marshPicture)
	mux.HandleFunc("GET /report.css", reportStyle)
	mux.HandleFunc("GET /tubes", s.tubes)
	mux.HandleFunc("GET /box", s.showBox)
	mux.HandleFunc("POST /box", s.fillBox)
	mux.HandleFunc("POST /photo", s.addPhoto)
	mux.HandleFunc("GET /photo/{id}", s.showPhoto)
	mux.HandleFunc("GET /demo/{file}", showDemoPicture)
	mux.HandleFunc("GET /painted/{id}", s.painted)
	mux.HandleFunc("POST /pick", s.pick)
	mux.HandleFunc("POST /suggest", s.suggest)
	mux.HandleFunc("POST /colours", s.colours)
	s.keptRoutes(mux)
	mux.HandleFunc("POST /answer", s.streams.limit("answers", s.answer))
	mux.HandleFunc("POST /beside", s.streams.limit("answers", s.beside))
	mux.HandleFunc("POST /compare", s.compare)
	mux.HandleFunc("POST /curve", s.curve)
	mux.HandleFunc("POST /mix", s.atTable(mix))
	mux.HandleFunc("POST /pile", s.atTable(pile))
	mux.HandleFunc("POST /got", s.atTable(got))
	mux.HandleFunc("POST /string", s.atTable(valueString))
	mux.HandleFunc("POST /teach", s.teach)
	mux.HandleFunc("GET /taught", s.taught)
	mux.HandleFunc("POST /why", s.aboutPalette(why))
	mux.HandleFunc("POST /sure", s.aboutPalette(sure))
	mux.HandleFunc("POST /proof", s.streams.limit("proofs", s.proof))
	for path, answer := range map[string]func(context.Context, *sceneQuestion) (any, error){
		"/bases": bases, "/values": valuePlans, "/board": board, "/recession": throughAir, "/air": putBack, "/fit": fit,
		"/pack": toPack, "/lid": lid, "/handout": handout, "/pocket": pocket, "/learn": chartToLearn,
	} {
		mux.HandleFunc("POST "+path, s.aboutScene(answer, path == "/lid" || path == "/handout"))
	}
	mux.HandleFunc("GET /chart.pdf", s.chart)
	return paced(s.guard(mux))
}

// serveStatic gives each embedded file an address of its own, so that any other
// address is not found and any other method not allowed.
func serveStatic(mux *http.ServeMux, files fs.FS) error {
	server := http.FileServerFS(files)
	mux.Handle("GET /{$}", server)
	mux.HandleFunc("GET /s/{id}", func(w http.ResponseWriter, r *http.Request) { http.ServeFileFS(w, r, files, "index.html") })
	return fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && name != "index.html" {
			mux.Handle("GET /"+name, server)
		}
		return err
	})
}

// trouble is an error a person can mend, with its status.
type trouble struct {
	status int
	text   string
}

func (t *trouble) Error() string { return t.text }

// retryAfter is how many seconds an asker should wait who found no place.
const retryAfter = "3"

// fail answers with one line of text. An error that has a status of its own keeps
// it; the others are what the asker can mend.
func fail(w http.ResponseWriter, err error) {
	var t *trouble
	var large *http.MaxBytesError
	var picture *photo.Error
	status := http.StatusBadRequest
	switch {
	case errors.Is(err, context.Canceled): // otherwise nobody is there to read it
		status, err = errStopped.status, errStopped
	case errors.As(err, &picture):
		status = http.StatusUnprocessableEntity
	case errors.As(err, &t):
		status = t.status
	case errors.As(err, &large):
		status, err = http.StatusRequestEntityTooLarge, errors.New("that is more than the page takes in")
	}
	switch status {
	case http.StatusServiceUnavailable:
		w.Header().Set("Retry-After", retryAfter)
	case http.StatusRequestTimeout, http.StatusRequestEntityTooLarge:
		w.Header().Set("Connection", "close") // the rest of the body is not waited for
	}
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.WriteHeader(status)
	_, _ = io.WriteString(w, oneLine(err))
}

// oneLine is what is wrong as a line that steers nothing and ends.
func oneLine(err error) string {
	const most = 400
	text := []rune(plain.Clean(err.Error()))
	if len(text) > most {
		text = append(text[:most-1], '…')
	}
	return string(text)
}

// unfold runs f, which makes something of a text, in one of few places: a text
// unfolds to two hundred times its size in empty objects, and is only held to its
// bounds after.
func (s *Server) unfold(ctx context.Context, f func() error) error {
	select {
	case s.unfolding <- struct{}{}:
		defer func() { <-s.unfolding }()
		return f()
	case <-ctx.Done():
		return context.Cause(ctx)
	}
}

// readJSON fills v from the request and refuses what it does not know.
func (s *Server) readJSON(w http.ResponseWriter, r *http.Request, v any) error {
	data, err := io.ReadAll(http.MaxBytesReader(w, r.Body, mostText))
	if err != nil {
		return err
	}
	return s.unfold(r.Context(), func() error { return strictly(data, v) })
}

// strictly fills v from one value and refuses what it does not know.
func strictly(data []byte, v any) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(v); err != nil {
		return err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return cmp.Or(err, errMore)
	}
	return nil
}

func writeJSON(w http.ResponseWriter, v any) {
	data, err := encoded(v)
	if err != nil {
		fail(w, &trouble{http.StatusInternalServerError, err.Error()})
		return
	}
	w.Header().Set("Content-Type", "application/json")
	_, _ = w.Write(data)
}

// marshPicture is what the first start shows.
func marshPicture(w http.ResponseWriter, r *http.Request) {
	http.ServeFileFS(w, r, testdata.Pictures, "salt-marsh/wide.jpg")
}

// reportStyle is the style of the written report, for the places of the page that
// show one and no others (CSS Nesting, W3C).
func reportStyle(w http.ResponseWriter, _ *http.Request) {
	css, err := printable.StyleSheet()
	if err != nil {
		fail(w, &trouble{http.StatusInternalServerError, err.Error()})
		return
	}
	w.Header().Set("Content-Type", "text/css; charset=utf-8")
	_, _ = w.Write(slices.Concat([]byte(".report{"), css, []byte("}")))
}
