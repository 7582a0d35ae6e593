package main

import (
	"fmt"
	"io"
	"sync/atomic"
	"time"

	"fewtubes/solver"

	"github.com/schollz/progressbar/v3"
)

// spinner shows on a terminal that work goes on, once it has taken long enough
// for a person to wonder. It is silent in a pipe.
type spinner struct {
	text          atomic.Value // string
	stop, stopped chan struct{}
}

// working starts a spinner and returns what ends it.
func working(stderr io.Writer, what string) (done func()) { return spin(stderr, what).done }

func spin(stderr io.Writer, what string) *spinner {
	s := &spinner{}
	s.text.Store(what)
	if isTerminal(stderr) {
		s.stop, s.stopped = make(chan struct{}), make(chan struct{})
		go s.run(stderr)
	}
	return s
}

func (s *spinner) run(stderr io.Writer) {
	defer close(s.stopped)
	const patience, tick = 600 * time.Millisecond, 100 * time.Millisecond
	select {
	case <-s.stop:
		return
	case <-time.After(patience):
	}
	bar := progressbar.NewOptions(-1,
		progressbar.OptionSetWriter(stderr),
		progressbar.OptionSetElapsedTime(true),
		progressbar.OptionClearOnFinish())
	for {
		select {
		case <-s.stop:
			_ = bar.Finish()
			return
		case <-time.After(tick):
			bar.Describe(s.text.Load().(string))
			_ = bar.Add(1)
		}
	}
}

func (s *spinner) done() {
	if s.stop != nil {
		close(s.stop)
		<-s.stopped
	}
}

// choosing tells where a choice stands.
func (s *spinner) choosing(p solver.Progress) {
	most := "not yet known"
	if p.AtMost > 0 {
		most = fmt.Sprintf("at most %d", p.AtMost)
	}
	s.text.Store(fmt.Sprintf("choosing tubes: at least %d, %s, %d cuts", p.AtLeast, most, p.Cuts))
}

// following tells how far a curve has come.
func (s *spinner) following(points int) {
	s.text.Store(fmt.Sprintf("following the curve: point %d found", points))
}
