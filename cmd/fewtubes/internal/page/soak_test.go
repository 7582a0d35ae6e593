package page

import (
	"context"
	"fmt"
	"maps"
	"net"
	"net/http"
	"os"
	"runtime"
	"slices"
	"sync"
	"testing"
	"time"

	"fewtubes/catalog"
	"fewtubes/gamut/bounded"
)

const (
	shortSoak   = 5 * time.Second // FEWTUBES_SOAK says otherwise; make soak is the long run
	soakClients = 8
	longSoak    = 5 * time.Minute // from here on the stores have been full for most of it
	flat        = 0.1             // by which the heap may differ from that after warming up
	mostLate    = 200 * time.Millisecond
)

// TestSoak loads a real server over the loopback with the mixed questions of
// eight painters, some of whom leave in the middle of an answer, and compares
// what is left over with what was there before.
func TestSoak(t *testing.T) {
	length := shortSoak
	if text := os.Getenv("FEWTUBES_SOAK"); text != "" {
		var err error
		if length, err = time.ParseDuration(text); err != nil {
			t.Fatal(err)
		}
	}
	before := leftOver(t)
	s := newSoak(t)
	stop := s.serve()
	ctx, cancel := context.WithTimeout(context.Background(), length)
	defer cancel()
	var clients sync.WaitGroup
	for i := range soakClients {
		clients.Go(func() { newPainter(s, i).work(ctx) })
	}
	pauses := 2 // at which what is held is measured
	if length >= longSoak {
		pauses = 12
	}
	for i := range pauses {
		time.Sleep(time.Until(s.begun.Add(length * time.Duration(i+1) / time.Duration(pauses))))
		s.measure()
	}
	clients.Wait()
	settle(t, s.server.queue, 0, 0) // who left last is let go
	stop()
	s.report(length)
	s.isFlat(length)
	s.stopsInTime(length)
	s.sameAs(before)
}

// soak is a server under load and what is seen of it.
type soak struct {
	t      *testing.T
	server *Server
	url    string
	client *http.Client
	rest   pressure
	quiet  sync.RWMutex // painters work under its read lock; a pause takes all of it

	mu      sync.Mutex
	begun   time.Time
	kinds   map[string]*tally
	left    map[string]moment // when a painter left, by the number of the question
	late    map[string][]moment
	samples []holding
}

// moment is a time by the clock and in the processor time of this process, or a
// difference of two: a busy machine stretches the first and not the second.
type moment struct{ clock, processor time.Duration }

func (s *soak) now() moment { return moment{time.Since(s.begun), bounded.ProcessorTime()} }

// tally is what came of one kind of question.
type tally struct {
	took     []time.Duration // those answered
	statuses map[string]int
}

// holding is what is held at a pause.
type holding struct {
	at                time.Duration
	heap              uint64 // bytes alive after a collection
	goroutines, files int
}

func newSoak(t *testing.T) *soak {
	stock, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	return &soak{
		t: t, server: New(stock, "127.0.0.1", newScenes(t)), begun: time.Now(), rest: pressed(),
		client: &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: soakClients}},
		kinds:  map[string]*tally{}, left: map[string]moment{}, late: map[string][]moment{},
	}
}

// numbered is the header by which a question is known on both sides.
const numbered = "Soak-Question"

// serve starts the server as the command does; how long a question is worked
// on after its asker left is taken where the handler returns.
func (s *soak) serve() (stop func()) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		s.t.Fatal(err)
	}
	s.url = "http://" + listener.Addr().String()
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	handler := s.server.Handler()
	timed := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		handler.ServeHTTP(w, r)
		s.released(r.Method+" "+r.URL.Path, r.Header.Get(numbered))
	})
	go func() { ended <- s.server.serve(ctx, listener, timed) }()
	return func() {
		s.client.CloseIdleConnections()
		start := time.Now()
		cancel()
		if err := <-ended; err != nil {
			s.t.Error(err)
		}
		s.t.Logf("stopped in %v", time.Since(start).Round(time.Millisecond))
	}
}

func (s *soak) released(kind, number string) {
	now := s.now()
	s.mu.Lock()
	defer s.mu.Unlock()
	if at, ok := s.left[number]; ok {
		s.late[kind] = append(s.late[kind], moment{now.clock - at.clock, now.processor - at.processor})
		delete(s.left, number)
	}
}

func (s *soak) leaves(number string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.left[number] = s.now()
}

func (s *soak) came(kind, status string, took time.Duration, answered bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	k := s.kinds[kind]
	if k == nil {
		k = &tally{statuses: map[string]int{}}
		s.kinds[kind] = k
	}
	k.statuses[status]++
	if answered {
		k.took = append(k.took, took)
	}
}

// measure stops the painters for a moment, so that only what is held counts.
func (s *soak) measure() {
	s.quiet.Lock()
	defer s.quiet.Unlock()
	for end := time.Now().Add(5 * time.Second); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		if running, waiting := s.server.queue.counts(); running+waiting == 0 {
			break
		}
	}
	now := leftOver(s.t)
	now.at = time.Since(s.begun)
	s.samples = append(s.samples, now)
}

// leftOver is what this process holds now.
func leftOver(t testing.TB) holding {
	if l, err := net.Listen("tcp", "127.0.0.1:0"); err == nil { // the runtime's own poller is open from here on
		l.Close()
	}
	runtime.GC()
	runtime.GC() // what a finalizer freed
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	files, err := os.ReadDir("/proc/self/fd")
	if err != nil && runtime.GOOS == "linux" {
		t.Error(err)
	}
	return holding{heap: m.HeapAlloc, goroutines: runtime.NumGoroutine(), files: len(files)}
}

func (s *soak) sameAs(before holding) {
	after := leftOver(s.t)
	for end := time.Now().Add(10 * time.Second); after.goroutines > before.goroutines || after.files > before.files; after = leftOver(s.t) {
		if time.Now().After(end) {
			stacks := make([]byte, 1<<16)
			s.t.Errorf("%d goroutines and %d files left, %d and %d before\n%s", after.goroutines, after.files,
				before.goroutines, before.files, stacks[:runtime.Stack(stacks, true)])
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	s.t.Logf("goroutines %d before, %d after; files %d before, %d after", before.goroutines, after.goroutines, before.files, after.files)
}

// isFlat compares the heap at the end with that after warming up. The short run
// ends before the stores are full and is held to the bounds alone.
func (s *soak) isFlat(length time.Duration) {
	warm, end := s.samples[len(s.samples)/4], s.samples[len(s.samples)-1]
	if most := uint64(mostPhotoMemory) + mostSessions*64<<20; end.heap > most {
		s.t.Errorf("%d MB on the heap, the stores are bound to %d", end.heap>>20, most>>20)
	}
	if change := float64(end.heap)/float64(warm.heap) - 1; length >= longSoak && (change > flat || change < -flat) {
		s.t.Errorf("the heap went from %d to %d MB", warm.heap>>20, end.heap>>20)
	}
}

// stopsInTime holds the time from an asker's leaving to the end of the question by
// the clock, where the machine leaves the process its processors; else what the
// process worked on in that time, the other questions included, and the clock
// loosely.
func (s *soak) stopsInTime(length time.Duration) {
	var all []moment
	for _, d := range s.late {
		all = append(all, d...)
	}
	if len(all) == 0 {
		s.t.Error("nobody left in the middle of an answer")
		return
	}
	clock, processor := parted(all)
	s.t.Logf("left, all: %d, by the clock %s, processor time %s", len(all), spread(clock), spread(processor))
	waited := s.rest.since()
	s.t.Logf("threads waited for a processor %.0f %% of the time they could run; at rest up to %.0f %%", 100*waited, 100*atRest)
	if d := part(processor, 0.95); waited > atRest && length >= longSoak && d > mostLate {
		s.t.Errorf("95 in 100 of what was left stopped within %v of processor time, want %v", d, mostLate)
	}
	if d := part(clock, 1); waited <= atRest && d > mostLate {
		s.t.Errorf("what was left stopped within %v by the clock, want %v", d, mostLate)
	}
	if d := part(clock, 1); d > 5*time.Second {
		s.t.Errorf("work went on for %v after its asker left", d)
	}
}

func parted(all []moment) (clock, processor []time.Duration) {
	for _, m := range all {
		clock, processor = append(clock, m.clock), append(processor, m.processor)
	}
	slices.Sort(clock)
	slices.Sort(processor)
	return clock, processor
}

func spread(sorted []time.Duration) string {
	within := 0
	for within < len(sorted) && sorted[within] <= mostLate {
		within++
	}
	return fmt.Sprintf("%v, 95 in 100 %v, most %v, %d within %v", part(sorted, 0.5), part(sorted, 0.95), part(sorted, 1), within, mostLate)
}

func part(sorted []time.Duration, share float64) time.Duration {
	return sorted[min(int(share*float64(len(sorted))), len(sorted)-1)].Round(100 * time.Microsecond)
}

// report prints the figures.
func (s *soak) report(length time.Duration) {
	total := 0
	for _, kind := range slices.Sorted(maps.Keys(s.kinds)) {
		k := s.kinds[kind]
		line, n := "", 0
		for _, status := range slices.Sorted(maps.Keys(k.statuses)) {
			line += fmt.Sprintf("  %s: %d", status, k.statuses[status])
			n += k.statuses[status]
		}
		total += n
		if len(k.took) > 0 {
			slices.Sort(k.took)
			line += fmt.Sprintf("  took %v, 95 in 100 %v, most %v", part(k.took, 0.5), part(k.took, 0.95), part(k.took, 1))
		}
		s.t.Logf("%-20s%6d%s", kind, n, line)
	}
	s.t.Logf("%d questions in %v", total, length)
	for _, kind := range slices.Sorted(maps.Keys(s.late)) {
		clock, processor := parted(s.late[kind])
		s.t.Logf("left %-18s%6d  stopped after %s\n\t\tprocessor time %s", kind, len(clock), spread(clock), spread(processor))
	}
	for _, m := range s.samples {
		s.t.Logf("after %8v  heap %5.1f MB  goroutines %d  files %d", m.at.Round(time.Second), float64(m.heap)/1e6, m.goroutines, m.files)
	}
}
