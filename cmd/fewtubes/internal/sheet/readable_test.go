package sheet

import (
	"regexp"
	"strconv"
	"testing"
)

var (
	fontForm = regexp.MustCompile(`/F\S+ ([\d.]+) Tf`)
	textForm = regexp.MustCompile(`BT (-?[\d.]+) (-?[\d.]+) Td`)
	rectForm = regexp.MustCompile(`(?m)^(-?[\d.]+) (-?[\d.]+) (-?[\d.]+) (-?[\d.]+) re [fS]$`)
)

// checkReadable reads type sizes and positions back from the page streams.
func checkReadable(t *testing.T, pdf []byte, paper Paper) {
	t.Helper()
	const point = 72 / 25.4
	width, height, edge := paper.Width*point, paper.Height*point, (margin-7)*point
	fonts, texts, rects := 0, 0, 0
	for _, content := range contents(t, pdf) {
		for _, m := range fontForm.FindAllStringSubmatch(content, -1) {
			fonts++
			if size := parse(t, m[1]); size < smallest {
				t.Errorf("type of %v points", size)
			}
		}
		for _, m := range textForm.FindAllStringSubmatch(content, -1) {
			texts++
			if x, y := parse(t, m[1]), parse(t, m[2]); x < edge || x > width-edge || y < edge || y > height-edge {
				t.Errorf("text at %v %v", x, y)
			}
		}
		for _, m := range rectForm.FindAllStringSubmatch(content, -1) {
			rects++
			x, y, w, h := parse(t, m[1]), parse(t, m[2]), parse(t, m[3]), parse(t, m[4])
			if x < edge || x+w > width-edge || y+h < edge || y > height-edge {
				t.Errorf("box at %v %v, %v by %v", x, y, w, h)
			}
		}
	}
	if fonts == 0 || texts == 0 || rects == 0 {
		t.Errorf("%d fonts, %d texts, %d boxes found", fonts, texts, rects)
	}
}

func parse(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
