package page

import (
	"errors"
	"fmt"
	"net/http"
	"unicode/utf8"

	"fewtubes/cmd/fewtubes/internal/scene"
)

// Bounds of one request. A phone's photograph is 5-15 MB; the rest is text.
const (
	mostUpload = 64 << 20 // bytes of a photograph
	mostText   = 1 << 20  // bytes of anything else
	mostHead   = 32 << 10 // bytes of a request's head; net/http lets 4 kB more pass

	mostTargets = 500
	mostEntries = 1000 // of any other list in a scene
	mostLetters = 200  // of a name, a title, a notation
)

// Bounds of the whole server, the queue's beside its own code.
const (
	mostConnections = 256
	mostStreams     = 24 // answers that are being streamed
	mostFollowers   = 64 // pages that follow a scene
	mostUnfolding   = 2  // texts that are being unfolded
)

// mostDecoded is what decoding one photograph may hold, bytes: a JPEG of 200
// million pixels, or half as many with 16 bits a channel.
const mostDecoded = 1500 << 20

var errBulky = &trouble{http.StatusRequestEntityTooLarge, "the picture would take more memory than the page gives it; export it smaller, or with 8 bits a channel"}

// about is what questions of the queue have in common, so that one runs at a
// time: what one photograph needs to be decoded is much.
type about string

const decoding about = "decoding"

// gate lets so many requests through at a time and turns away the next.
type gate struct{ places chan struct{} }

func newGate(most int) gate { return gate{make(chan struct{}, most)} }

func (g gate) limit(what string, next http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		select {
		case g.places <- struct{}{}:
		default:
			fail(w, &trouble{http.StatusServiceUnavailable, fmt.Sprintf("more than %d %s at once are too many; try again in a few seconds", cap(g.places), what)})
			return
		}
		defer func() { <-g.places }()
		next(w, r)
	}
}

// bounded refuses a scene beyond what a person lays out.
func (s *state) bounded() error {
	l := &s.Limits
	if len(s.Targets) > mostTargets {
		return tooMany("colours", len(s.Targets), mostTargets)
	}
	lists := [][]string{l.Avoid, l.Keep, l.Never, l.Only, l.Own, s.Palette}
	lists = append(lists, l.AtMostOne...)
	if n := max(len(s.Photos), len(l.AtMostOne)); n > mostEntries {
		return tooMany("entries in a list", n, mostEntries)
	}
	texts := []string{s.Title}
	for _, p := range s.Photos {
		if len(p.Planes) > mostEntries {
			return tooMany("entries in a list", len(p.Planes), mostEntries)
		}
		texts = append(texts, p.Name, p.File)
	}
	for _, list := range lists {
		if len(list) > mostEntries {
			return tooMany("entries in a list", len(list), mostEntries)
		}
		texts = append(texts, list...)
	}
	for _, t := range s.Targets {
		texts = append(texts, t.Name, t.Colour, t.Seen)
	}
	for _, text := range texts {
		if n := utf8.RuneCountInString(text); n > mostLetters {
			return fmt.Errorf("a name of %d letters is more than the %d the page takes; shorten it", n, mostLetters)
		}
	}
	return nil
}

// boundedSuggestion refuses to sample more than is held, or a photograph twice.
func boundedSuggestion(photos []statePhoto, planes []scene.PlaneShape) error {
	if len(photos) > mostPhotos {
		return tooMany("photographs", len(photos), mostPhotos)
	}
	seen := map[string]bool{}
	for _, p := range photos {
		if seen[p.ID] {
			return errors.New("a photograph is named twice; leave one out")
		}
		seen[p.ID] = true
	}
	s := state{Photos: []statePhoto{{Photo: scene.Photo{Planes: planes}}}}
	return s.bounded()
}

func tooMany(what string, n, most int) error {
	return fmt.Errorf("%d %s are more than the %d the page takes; leave some out", n, what, most)
}

// errMore is a request with something after its question.
var errMore = errors.New("there is more than one question in the request")
