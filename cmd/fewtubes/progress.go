package main

import (
	"io"
	"time"

	"github.com/schollz/progressbar/v3"
)

// working shows a spinner on a terminal until the returned function is called,
// once the work has taken long enough for a person to wonder. It is silent in a
// pipe.
func working(stderr io.Writer, what string) (done func()) {
	if !isTerminal(stderr) {
		return func() {}
	}
	const patience, tick = 600 * time.Millisecond, 100 * time.Millisecond
	stop, stopped := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(stopped)
		select {
		case <-stop:
			return
		case <-time.After(patience):
		}
		bar := progressbar.NewOptions(-1,
			progressbar.OptionSetWriter(stderr),
			progressbar.OptionSetDescription(what),
			progressbar.OptionSetElapsedTime(true),
			progressbar.OptionClearOnFinish())
		for {
			select {
			case <-stop:
				_ = bar.Finish()
				return
			case <-time.After(tick):
				_ = bar.Add(1)
			}
		}
	}()
	return func() { close(stop); <-stopped }
}
