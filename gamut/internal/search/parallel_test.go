package search

import (
	"sync"
	"testing"

	"fewtubes/gamut/set"
)

// Many goroutines on one fresh mixer find what one finds on another.
func TestClosestIsTheSameFromManyGoroutines(t *testing.T) {
	questions := readQuestions(t)[450:550]
	alone, shared := acrylicMixer(t), acrylicMixer(t)
	want := make([]Mix, len(questions))
	for i, q := range questions {
		want[i] = alone.Closest(q.target, set.Of(alone.Len(), q.palette...), Search)
	}
	var wg sync.WaitGroup
	for g := range 4 {
		wg.Go(func() {
			for k := range questions {
				i := (k*7 + g*25) % len(questions)
				q := questions[i]
				got := shared.Closest(q.target, set.Of(shared.Len(), q.palette...), Search)
				if got.DE != want[i].DE || got.Lab != want[i].Lab {
					t.Errorf("%v: %v, alone %v", q, got, want[i])
				}
			}
		})
	}
	wg.Wait()
}
