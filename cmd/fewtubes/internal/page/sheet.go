package page

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/sheet"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// mostCharted keeps a sheet to what a person would paint.
const mostCharted = 13

// chart is the practice sheet of a palette as PDF.
func (s *Server) chart(w http.ResponseWriter, r *http.Request) {
	tubes, err := s.palette(strings.Split(r.URL.Query().Get("palette"), ","))
	if err == nil && (len(tubes) < 2 || len(tubes) > mostCharted) {
		err = fmt.Errorf("a practice sheet takes 2 to %d tubes", mostCharted)
	}
	if err != nil {
		fail(w, err)
		return
	}
	paper, err := sheet.ParsePaper(r.URL.Query().Get("paper"))
	if err != nil {
		fail(w, err)
		return
	}
	p := newReply(w, r)
	pdf, err := inTurn(s, p, nil, func(context.Context) ([]byte, error) {
		pdf, err := sheet.NewChart("Practice chart", tubes, colour.D65(), s.stock().Surface(film.AsDried)).PDF(paper)
		if err != nil {
			err = &trouble{http.StatusInternalServerError, err.Error()}
		}
		return pdf, err
	})
	if err != nil {
		p.fail(err)
		return
	}
	p.pdf("practice-chart.pdf", pdf)
}

// palette finds tubes by id, each once.
func (s *Server) palette(ids []string) (out []catalog.Tube, err error) {
	for _, id := range ids {
		tube, err := s.stock().Get(strings.TrimSpace(id))
		if err != nil {
			return nil, err
		}
		if !slices.ContainsFunc(out, func(t catalog.Tube) bool { return t.ID == tube.ID }) {
			out = append(out, tube)
		}
	}
	return out, nil
}
