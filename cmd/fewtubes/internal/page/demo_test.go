package page

import (
	"bytes"
	"testing"
)

// The first start shows the demo's own picture, and no other file.
func TestDemoPictureIsServed(t *testing.T) {
	server := newServer(t)
	status, head, got := send(t, server, "GET", "/demo/wide.jpg", nil, nil)
	if status != 200 || head.Get("Content-Type") != "image/jpeg" || !bytes.Equal(got, demoPicture(t)) {
		t.Errorf("%d, %d bytes", status, len(got))
	}
	for _, name := range []string{"salt-marsh.toml", "answer.png", ".", "..%2fsalt-marsh.toml"} {
		if status, _, text := send(t, server, "GET", "/demo/"+name, nil, nil); status != 404 {
			t.Errorf("%s: %d %.100s", name, status, text)
		}
	}
}
