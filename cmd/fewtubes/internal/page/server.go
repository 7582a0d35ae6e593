package page

import (
	"embed"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"net/http"
	"strings"
	"time"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/report"
)

//go:embed static
var static embed.FS

// Limits of one request. A phone's photograph is 5-15 MB; the rest is text.
const (
	mostUpload = 64 << 20
	mostText   = 1 << 20
)

// Server is the page and what it asks for.
type Server struct {
	stock  *catalog.Catalogue
	listen string // host name it listens on besides the loopback names
	photos *photoStore
	asked  *askedStore
	queue  *queue
}

// New makes the page over the tubes given. listen is the host name or address
// of the listener, accepted in the Host header besides the loopback ones.
func New(stock *catalog.Catalogue, listen string) *Server {
	return &Server{
		stock: stock, listen: listen,
		photos: newPhotoStore(), asked: newAskedStore(),
		queue: newQueue(computations, mostWaiting),
	}
}

// HTTP is the server ready to be started on a listener.
func (s *Server) HTTP() *http.Server {
	return &http.Server{
		Handler:           s.Handler(),
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       2 * time.Minute,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    32 << 10,
	}
}

// Handler is every address of the page behind its guard.
func (s *Server) Handler() http.Handler {
	mux := http.NewServeMux()
	files, err := fs.Sub(static, "static")
	if err != nil {
		panic("page: " + err.Error())
	}
	mux.Handle("GET /", http.FileServerFS(files))
	mux.HandleFunc("GET /report.css", reportStyle)
	mux.HandleFunc("GET /tubes", s.tubes)
	mux.HandleFunc("POST /photo", s.addPhoto)
	mux.HandleFunc("GET /photo/{id}", s.showPhoto)
	mux.HandleFunc("POST /pick", s.pick)
	mux.HandleFunc("POST /suggest", s.suggest)
	mux.HandleFunc("POST /colours", s.colours)
	mux.HandleFunc("POST /open", s.open)
	mux.HandleFunc("POST /save", s.save)
	mux.HandleFunc("POST /answer", s.answer)
	mux.HandleFunc("POST /compare", s.compare)
	mux.HandleFunc("POST /curve", s.curve)
	mux.HandleFunc("POST /mix", s.atTable(s.mix))
	mux.HandleFunc("POST /pile", s.atTable(s.pile))
	mux.HandleFunc("POST /correct", s.atTable(s.correct))
	mux.HandleFunc("GET /chart.pdf", s.chart)
	return s.guard(mux)
}

// trouble is an error a person can mend, with its status.
type trouble struct {
	status int
	text   string
}

func (t *trouble) Error() string { return t.text }

// badRequest marks what the asker can mend. An error that has a status of its
// own keeps it, the others are answered with 400 by fail.
func badRequest(err error) error { return err }

// retryAfter is how many seconds an asker should wait who found no place.
const retryAfter = "3"

// fail answers with one line of text.
func fail(w http.ResponseWriter, err error) {
	var t *trouble
	var large *http.MaxBytesError
	status := http.StatusBadRequest
	switch {
	case errors.As(err, &t):
		status = t.status
	case errors.As(err, &large):
		status, err = http.StatusRequestEntityTooLarge, errors.New("that is more than the page takes in")
	}
	if status == http.StatusServiceUnavailable {
		w.Header().Set("Retry-After", retryAfter)
	}
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.WriteHeader(status)
	_, _ = io.WriteString(w, strings.ReplaceAll(err.Error(), "\n", " "))
}

// readJSON fills v from the request and refuses what it does not know.
func readJSON(w http.ResponseWriter, r *http.Request, v any) error {
	d := json.NewDecoder(http.MaxBytesReader(w, r.Body, mostText))
	d.DisallowUnknownFields()
	return d.Decode(v)
}

func writeJSON(w http.ResponseWriter, v any) {
	data, err := json.Marshal(v)
	if err != nil {
		fail(w, &trouble{http.StatusInternalServerError, err.Error()})
		return
	}
	w.Header().Set("Content-Type", "application/json")
	_, _ = w.Write(data)
}

// reportStyle is the style the answer shares with the written report.
func reportStyle(w http.ResponseWriter, _ *http.Request) {
	css, err := report.StyleSheet()
	if err != nil {
		fail(w, &trouble{http.StatusInternalServerError, err.Error()})
		return
	}
	w.Header().Set("Content-Type", "text/css; charset=utf-8")
	_, _ = w.Write(css)
}
