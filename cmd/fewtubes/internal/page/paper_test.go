package page

import (
	"bytes"
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/ledongthuc/pdf"
)

// printed is the text of each page of a PDF, read by a library that had no part
// in writing it; runs of blanks and joined letters are undone.
func printed(t testing.TB, data []byte) (pages []string) {
	t.Helper()
	r, err := pdf.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	for n := 1; n <= r.NumPage(); n++ {
		text, err := r.Page(n).GetPlainText(nil)
		if err != nil {
			t.Fatal(err)
		}
		text = strings.NewReplacer("ﬀ", "ff", "ﬁ", "fi", "ﬂ", "fl").Replace(text)
		pages = append(pages, strings.Join(strings.Fields(text), " "))
	}
	return pages
}

// The page for the lid of the paint box: the palette and the first mixes stand
// on the first sheet, every colour on some sheet, nothing that is pressed or
// typed into on any.
func TestPrintsForTheLid(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.open(fewTubes)
	b.until(learned)
	data, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperA4), chromedp.PDFPrintBackground()))
	if err != nil {
		t.Fatal(err)
	}
	pages := printed(t, data)
	if len(pages) > 2 {
		t.Errorf("%d sheets for three colours", len(pages))
	}
	for _, want := range []string{"Ebb", "The palette", "Titanium white", "PW6", "Ultramarine blue", "wet mud", "far shore", "sunlit grass", "barely seen", "tolerance ΔE00 3.00"} {
		if !strings.Contains(pages[0], want) {
			t.Errorf("%q is not on the first sheet:\n%s", want, pages[0])
		}
	}
	all := strings.Join(pages, " ")
	for _, want := range []string{"Values", "Hue and chroma", "Cautions", "safety data sheet"} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is on no sheet", want)
		}
	}
	for _, no := range []string{"Save as a file", "Bring photographs", "Half and half", "most tubes", "Mixing table", "Draw the curve"} {
		if strings.Contains(all, no) {
			t.Errorf("%q is printed", no)
		}
	}
	b.quiet()
}

// The practice sheet names every tube, its mixes and its cautions.
func TestPracticeSheetIsOfThePalette(t *testing.T) {
	status, head, data := send(t, newServer(t), "GET", "/chart.pdf?paper=A4&palette=titanium-white,yellow-ochre,ultramarine-blue", nil, nil)
	if status != http.StatusOK || head.Get("Content-Type") != "application/pdf" {
		t.Fatalf("%d %s", status, head.Get("Content-Type"))
	}
	all := strings.Join(printed(t, data), " ")
	for _, want := range []string{"Practice chart", "Titanium white", "Yellow ochre", "Ultramarine blue", "100 mm", "safety data sheet", "page 1"} {
		if !strings.Contains(all, want) && !strings.Contains(all, strings.ToLower(want)) {
			t.Errorf("%q is missing in\n%s", want, all)
		}
	}
	if strings.Contains(strings.ToLower(all), "cadmium") {
		t.Error("a tube that was not asked for")
	}
}
