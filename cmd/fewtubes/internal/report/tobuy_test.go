package report

import (
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/solver"
)

// boxed is the fixture for a painter who has some tubes.
func boxed(palette string, own ...string) (*solver.Problem, *solver.Answer) {
	p := fixtureProblem()
	p.Limits.Own, p.Limits.FewestToBuy = own, true
	a := fixtureAnswer(p)
	a.Limits = p.Limits
	best := &a.Palettes[0]
	best.Tubes, best.Buy = strings.Fields(palette), []string{}
	for _, id := range best.Tubes {
		if !strings.Contains(strings.Join(own, " "), id) {
			best.Buy = append(best.Buy, id)
		}
	}
	a.ToBuy = &solver.Minimum{Tubes: len(best.Buy), AtLeast: len(best.Buy), Proof: solver.Searched}
	return p, a
}

func TestBuySentence(t *testing.T) {
	for _, c := range []struct{ palette, own, want string }{
		{"titanium-white earth-red", "titanium-white earth-red", "Nothing to buy. The palette takes all 2 tubes you have."},
		{"titanium-white", "titanium-white earth-red", "Nothing to buy. The palette takes 1 of the 2 tubes you have; earth red can stay at home."},
		{"titanium-white deep-blue", "titanium-white earth-red warm-yellow",
			"To buy, one: deep blue (11.50). The palette takes 1 of the 3 tubes you have; warm yellow and earth red can stay at home."},
		{"titanium-white deep-blue", "earth-red", "To buy, two: titanium white (8.50) and deep blue (11.50). The palette takes none of the tubes you have."},
		{"titanium-white deep-blue", "deep-blue", "To buy, one: titanium white (8.50). The palette takes the one tube you have."},
		{"titanium-white", "", "To buy, one: titanium white (8.50)."},
	} {
		p, a := boxed(c.palette, strings.Fields(c.own)...)
		if got := NewChoice(Scene{}, p, a).BuySentence(); got != c.want {
			t.Errorf("%s of %s: %q, want %q", c.palette, c.own, got, c.want)
		}
	}
	p := fixtureProblem()
	if got := NewChoice(Scene{}, p, fixtureAnswer(p)).BuySentence(); got != "" {
		t.Errorf("not asked: %q", got)
	}
}

// The headline of a plan claims no more than was asked: with a box that is the fewest
// to buy, and fewer tubes may do where more are bought.
func TestPlanSaysWhatIsToBuy(t *testing.T) {
	for _, c := range []struct{ palette, own, headline, brief string }{
		{"titanium-white earth-red", "titanium-white earth-red", "Two tubes, nothing to buy.", "nothing to buy"},
		{"titanium-white deep-blue", "titanium-white", "Two tubes, one to buy.", "one to buy"},
	} {
		p, a := boxed(c.palette, strings.Fields(c.own)...)
		if got := NewChoice(Scene{}, p, a).Plan(); got.Headline != c.headline || got.Brief != c.brief {
			t.Errorf("%s of %s: %q, %q", c.palette, c.own, got.Headline, got.Brief)
		}
	}
}

func TestFewestInAllIsOffered(t *testing.T) {
	p, a := boxed("titanium-white warm-yellow deep-blue earth-red", "titanium-white", "warm-yellow", "earth-red")
	c := NewChoice(Scene{}, p, a)
	if c.OfferFewest(nil); c.FewestSentence() != "" {
		t.Errorf("nothing offered: %q", c.FewestSentence())
	}
	fewer := fixturePalette(p, 0, 3, 4)
	fewer.Price = 3290
	c.OfferFewest(&fewer)
	const want = "Fewest in all: 3 tubes, with 2 to buy for 32.90 (--fewest all): titanium white, deep blue and cool green."
	if got := c.FewestSentence(); got != want || strings.Join(c.Fewest.Buy, " ") != "deep-blue cool-green" {
		t.Errorf("%q, %v", got, c.Fewest.Buy)
	}
}

// What was made least, and why no less will do, is said on the terminal and on the page.
func TestNeedsToBuyAreShown(t *testing.T) {
	p, a := boxed("titanium-white deep-blue", "titanium-white")
	a.NeedsToBuy = []solver.Need{{Target: "ebb channel", OneOf: []string{"deep-blue", "cool-green"}, BestDE: 9.1, Proof: solver.Searched}}
	c := NewChoice(Scene{}, p, a)
	text := strings.Join(strings.Fields(c.Text(terminal.Style{Width: 100, More: true})), " ")
	html, err := c.HTML()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Buying fewer will not do", "Why not fewer to buy", "All the tubes you have together leave this need.",
		"ebb channel needs one of: deep blue, cool green.", "Why not fewer in all, with as many to buy"} {
		if !strings.Contains(text, want) {
			t.Errorf("the text does not say %q", want)
		}
		if !strings.Contains(string(html), want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	a.NeedsToBuy[0].OneOf = []string{"titanium-white", "deep-blue"}
	if got := NewChoice(Scene{}, p, a).BeyondOwned(); got != "" {
		t.Errorf("a tube that is owned answers the need: %q", got)
	}
}
