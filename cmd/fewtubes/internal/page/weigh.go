package page

import (
	"fmt"
	"net/http"

	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/solver"
)

const mostCompared = 6

// compare sets palettes side by side over the colours of the scene.
func (s *Server) compare(w http.ResponseWriter, r *http.Request) {
	var q struct {
		Scene    state          `json:"scene"`
		Palettes []namedPalette `json:"palettes"`
	}
	if err := s.readJSON(w, r, &q); err != nil {
		fail(w, err)
		return
	}
	if len(q.Palettes) < 2 || len(q.Palettes) > mostCompared {
		fail(w, fmt.Errorf("hold two to %d palettes to compare them", mostCompared))
		return
	}
	a, err := s.asking(r.Context(), &q.Scene)
	if err != nil {
		fail(w, err)
		return
	}
	p := newReply(w, r)
	var doc document
	err = s.hold(p, a, func(session *solver.Session) error {
		var named []solver.Named
		for _, held := range q.Palettes {
			checked, _, err := session.Check(r.Context(), held.Tubes, a.problem.Limits.Own)
			if err != nil {
				return err
			}
			named = append(named, solver.Named{Name: held.Name, Palette: checked})
		}
		compared, err := session.Compare(r.Context(), named)
		if err != nil {
			return err
		}
		a.words.Limits = nil // the palettes were given
		doc = report.NewComparison(a.words, &a.problem, compared)
		return r.Context().Err()
	})
	if err != nil {
		p.fail(err)
		return
	}
	p.document(doc)
}

// namedPalette is a palette the painter holds for comparing.
type namedPalette struct {
	Name  string   `json:"name"`
	Tubes []string `json:"tubes"`
}
