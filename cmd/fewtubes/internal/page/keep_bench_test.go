package page

import (
	"encoding/json"
	"fmt"
	"testing"

	"fewtubes/cmd/fewtubes/internal/kept"
)

// One act on the demo with a full history, from the question to both files on disk.
func BenchmarkKeepAct(b *testing.B) {
	k := keeperOver(b, b.TempDir())
	d := k.made("demo")
	store, err := kept.Open(k.dir, Form)
	if err != nil {
		b.Fatal(err)
	}
	act := func(i int) {
		d.Scene["title"] = fmt.Sprint("Tide ", i)
		raw, err := json.Marshal(d.Scene)
		if err != nil {
			b.Fatal(err)
		}
		now, err := store.Read(d.ID)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := store.Do(d.ID, kept.Act{Base: now.Revision, Words: "named it", Scene: raw}); err != nil {
			b.Fatal(err)
		}
	}
	for i := range 100 {
		act(i)
	}
	i := 100
	for b.Loop() {
		act(i)
		i++
	}
}
