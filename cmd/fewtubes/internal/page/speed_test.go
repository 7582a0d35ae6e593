package page

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// discarding drops what a handler writes and ends the request after the answer,
// as a painter's next change does.
type discarding struct {
	*httptest.ResponseRecorder
	enough func()
}

func (d discarding) Write(p []byte) (int, error) {
	if bytes.HasPrefix(p, []byte("event: answer")) {
		d.enough()
	}
	return d.ResponseRecorder.Write(p)
}

// BenchmarkLimitChange is a change of a limit on colours already answered, from
// the request to the answer's last byte: under 0.1 s is the aim.
func BenchmarkLimitChange(b *testing.B) {
	handler := newServer(b).Config.Handler
	ask := func(budget int) {
		body := strings.Replace(marshScene, `"limits": {}`, fmt.Sprintf(`"limits": {"budget": %d}`, budget), 1)
		r := httptest.NewRequest(http.MethodPost, "http://127.0.0.1/answer", strings.NewReader(body))
		r.Header.Set("Origin", "http://127.0.0.1")
		ctx, enough := context.WithCancel(r.Context())
		defer enough()
		w := httptest.NewRecorder()
		handler.ServeHTTP(discarding{w, enough}, r.WithContext(ctx))
		if !strings.Contains(w.Body.String(), "event: answer") {
			b.Fatalf("%.300s", w.Body)
		}
	}
	ask(200)
	for i := 0; b.Loop(); i++ {
		ask(150 - i%40)
	}
}

// BenchmarkPhotograph is a JPEG of 24 megapixels made ready for picking: under
// 2 s is the aim.
func BenchmarkPhotograph(b *testing.B) {
	data := []byte(largeJPEG())
	for b.Loop() {
		d, err := newDropped(context.Background(), "x", "wide.jpg", data)
		if err != nil {
			b.Fatal(err)
		}
		if len(d.jpeg) == 0 {
			b.Fatal("nothing to show")
		}
	}
	b.ReportMetric(float64(len(data))/1e6, "MB")
}
