package catalog

import (
	"errors"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"fewtubes/gamut/bounded"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// Whatever stands in the three files, they are read or refused in one line, and
// what is read has a colour.
func FuzzRead(f *testing.F) {
	nodes := strings.Repeat(",0.5", film.NodeCount)
	films := strings.Join(filmColumns, ",") + "\na,K" + nodes + "\na,S" + nodes + "\na,S_per_mm" + nodes + "\n"
	tubes := "# a comment\n" + strings.Join(tubeColumns, ",") + "\na,A,PB29 PW6,measured,,test,zinc cobalt,follow the label,I,opaque,fast,1.5,1,100,40\n"
	const surface = "k1,k2\n0.03,0.65\n"
	f.Add(tubes, films, surface)
	f.Add(tubes+strings.Replace(tubes[strings.Index(tubes, "\na,")+1:], "a,A,PB29 PW6,measured,", "b,B,PB29,estimated,a:2", 1), films, surface)
	f.Add(tubes, strings.ReplaceAll(films, "0.5", "1e-300"), surface)
	f.Add(strings.ReplaceAll(tubes, ",", ",\""), films, surface)
	f.Add("\ufeff"+tubes, films+"\n\n", "k1,k2\n0,-1\n")
	f.Fuzz(func(t *testing.T, tubes, films, surface string) {
		var c *Catalogue
		var err error
		bounded.Work(t, len(tubes)+len(films)+len(surface), func() {
			c, err = Read(fstest.MapFS{"tubes.csv": {Data: []byte(tubes)}, "film.csv": {Data: []byte(films)}, "surface.csv": {Data: []byte(surface)}}, ".")
		})
		if err != nil {
			bounded.Refusal(t, err, ".csv")
			if !errors.As(err, new(*DataError)) {
				t.Fatalf("%T %v", err, err)
			}
			return
		}
		for _, tube := range c.Tubes() {
			seen := tube.Paint.Masstone(c.Scale().Surface)
			if lab := colour.D65().Lab(&seen); !lab.Finite() {
				t.Fatalf("%s: %v", tube.ID, lab)
			}
		}
	})
}

func BenchmarkBuiltin(b *testing.B) {
	for b.Loop() {
		if _, err := Read(os.DirFS("data"), "."); err != nil {
			b.Fatal(err)
		}
	}
}
