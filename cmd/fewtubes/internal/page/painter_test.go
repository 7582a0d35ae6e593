package page

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"math/rand/v2"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"

	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/solver"
)

const soakSeed = 20240917

// painter is a client that works as a person at the page does, from a seed.
type painter struct {
	s      *soak
	rand   *rand.Rand
	number int
	asked  int

	photos   []string // as the page knows them
	scene    state
	palettes [][]string // offered by the last answer
	kept     string     // the id of its scene, empty for none
	base     int        // and its revision
}

// question is one request of a painter.
type question struct {
	kind, method, path, body string
	want                     []int // statuses that are no error
	took                     func(answer []byte) error
}

// marshColours are the demo's, and some that no paint reaches.
var marshColours = []string{
	"lab(73 -4 -17)", "lab(62 0.5 -9)", "lab(38 4 9)", "lab(38 34 18)", "lab(62 -14 42)", "lab(92 1 5)", "lab(28 2 4)",
	"#7a8c5a", "5GY 5/6", "lab(50 -20 10)", "lab(55 10 40)", "lab(45 -5 -20)", "lab(80 2 20)", "lab(60 80 60)", "lab(30 20 -50)",
}

func newPainter(s *soak, number int) *painter {
	p := &painter{s: s, rand: rand.New(rand.NewPCG(soakSeed, uint64(number))), number: number}
	p.newScene()
	return p
}

func (p *painter) newScene() {
	s := scene.Scene{Title: fmt.Sprintf("Ebb %d", p.rand.IntN(1000)), Tolerance: 2 + p.rand.Float64()*3, Light: "D65"}
	for i, c := range p.rand.Perm(len(marshColours))[:2+p.rand.IntN(3)] {
		s.Targets = append(s.Targets, scene.Target{Name: fmt.Sprintf("note %d", i+1), Colour: marshColours[c], Area: 1 + p.rand.Float64()})
	}
	p.scene = newState(&s)
	p.palettes = [][]string{{"titanium-white", "ivory-black", "yellow-ochre"}, {"titanium-white", "ultramarine-blue", "burnt-sienna"}}
}

// work asks until the time is over. One question in six is a long one and left in the middle.
func (p *painter) work(ctx context.Context) {
	p.does(p.upload(), false)
	p.does(p.change(), true)
	for ctx.Err() == nil {
		if p.rand.IntN(6) == 0 {
			p.does(p.draw(p.long()), true)
			continue
		}
		p.does(p.draw(append(p.long(), p.short()...)), false)
	}
}

// draw is a question as often as its weight says.
type draw struct {
	weight   int
	question func() question
}

// long are the questions that are worth leaving.
func (p *painter) long() []draw {
	return []draw{{4, p.upload}, {3, p.suggest}, {4, p.another}, {4, p.choose}, {14, p.change}, {4, p.check}, {5, p.compare}, {2, p.curve}, {4, p.correct}, {4, p.chart}}
}

func (p *painter) short() []draw {
	return []draw{{8, p.look}, {30, p.pick}, {8, p.colours}, {8, p.mix}, {8, p.pile}, {10, p.keep}, {4, p.back}, {6, p.file}, {3, p.handOn}, {4, p.open}, {2, p.list}, {5, p.load}, {6, p.wrong}}
}

func (p *painter) draw(draws []draw) question {
	all := 0
	for _, d := range draws {
		all += d.weight
	}
	n := p.rand.IntN(all)
	for _, d := range draws {
		if n -= d.weight; n < 0 {
			return d.question()
		}
	}
	panic("weights")
}

// does asks a question, to its end or until the painter leaves.
func (p *painter) does(q question, leaves bool) {
	p.s.quiet.RLock()
	defer p.s.quiet.RUnlock()
	p.asked++
	number := fmt.Sprintf("%d.%d", p.number, p.asked)
	ctx, cancel := context.WithTimeout(context.Background(), 3*time.Minute)
	defer cancel()
	if leaves {
		after := time.Duration(p.rand.IntN(300)) * time.Millisecond
		timer := time.AfterFunc(after, func() { p.s.leaves(number); cancel() })
		defer timer.Stop()
	}
	start := time.Now()
	status, answer, err := p.send(ctx, q, number)
	took := time.Since(start)
	switch {
	case leaves && err != nil:
		p.s.came(q.kind, "left", took, false)
	case err != nil:
		p.s.came(q.kind, "broken", took, false)
		p.s.t.Errorf("%s: %v", q.kind, err)
	case !slices.Contains(q.want, status):
		p.s.came(q.kind, fmt.Sprint(status), took, false)
		p.s.t.Errorf("%s: %d %.300q\n%.300q", q.kind, status, answer, q.body)
	default:
		p.s.came(q.kind, fmt.Sprint(status), took, true)
		if q.took == nil || status != http.StatusOK {
			return
		}
		if err := q.took(answer); err != nil {
			p.s.t.Errorf("%s: %v\n%.300q", q.kind, err, answer)
		}
	}
}

func (p *painter) send(ctx context.Context, q question, number string) (int, []byte, error) {
	r, err := http.NewRequestWithContext(ctx, q.method, p.s.url+q.path, strings.NewReader(q.body))
	if err != nil {
		return 0, nil, err
	}
	r.Header.Set(numbered, number)
	if q.method != http.MethodGet {
		r.Header.Set("Origin", p.s.url)
		r.Header.Set("Sec-Fetch-Site", "same-origin")
	}
	got, err := p.s.client.Do(r)
	if err != nil {
		return 0, nil, err
	}
	defer got.Body.Close()
	answer, err := io.ReadAll(got.Body)
	return got.StatusCode, answer, err
}

// snaps are JPEGs of the sizes painters have; what is appended after their end
// makes each another photograph.
var snaps = sync.OnceValue(func() (out []string) {
	for _, size := range [][2]int{{1600, 1200}, {2400, 1600}, {1200, 1600}} {
		img := image.NewYCbCr(image.Rect(0, 0, size[0], size[1]), image.YCbCrSubsampleRatio420)
		for i := range img.Y {
			img.Y[i] = uint8(i*3 + i/size[0]*5)
		}
		for i := range img.Cb {
			img.Cb[i], img.Cr[i] = uint8(i/9), uint8(i/7)
		}
		var b bytes.Buffer
		if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 60}); err != nil {
			panic(err)
		}
		out = append(out, b.String())
	}
	return out
})

func (p *painter) upload() question {
	body := snaps()[p.rand.IntN(len(snaps()))] + fmt.Sprint(p.rand.IntN(40))
	return question{"upload", "POST", "/photo?name=ebb.jpg", body, []int{200}, func(answer []byte) error {
		var got struct{ ID string }
		if err := json.Unmarshal(answer, &got); err != nil {
			return err
		}
		p.photos = append(p.photos[max(0, len(p.photos)-1):], got.ID)
		return nil
	}}
}

// gone is for questions about a photograph that others' may have displaced.
var gone = []int{200, 404}

func (p *painter) photo() string {
	if len(p.photos) == 0 {
		return "none"
	}
	return p.photos[p.rand.IntN(len(p.photos))]
}

func (p *painter) look() question {
	return question{"look", "GET", "/photo/" + p.photo() + []string{"", "?greys"}[p.rand.IntN(2)], "", gone, begins("\xff\xd8")}
}

func (p *painter) pick() question {
	return question{"pick", "POST", "/pick", fmt.Sprintf(`{"photo": %q, "x": %.3f, "y": %.3f, "radius": 0.02}`, p.photo(), p.rand.Float64(), p.rand.Float64()), gone, isJSON}
}

func (p *painter) suggest() question {
	return question{"suggest", "POST", "/suggest", fmt.Sprintf(`{"photos": [{"name": "a", "file": "a.jpg", "id": %q}], "targets": %d, "fitValues": true}`, p.photo(), 3+p.rand.IntN(12)), gone, isJSON}
}

func (p *painter) colours() question {
	return question{"colours", "POST", "/colours", text(map[string]string{"text": "mud = " + strings.Join(marshColours[:1+p.rand.IntN(5)], "; ")}), []int{200}, isJSON}
}

func (p *painter) another() question {
	p.newScene()
	return p.choose()
}

func (p *painter) choose() question {
	return question{"choose", "POST", "/answer", text(asks{Scene: p.scene}), []int{200}, func(answer []byte) error {
		return p.told(answer, "lessons")
	}}
}

// change sets other limits, as a painter does who turns them to see what happens.
func (p *painter) change() question {
	l := &p.scene.Limits
	switch p.rand.IntN(5) {
	case 0:
		l.MaxTubes = p.rand.IntN(10)
	case 1:
		budget := float64(40 + p.rand.IntN(150))
		l.Budget = &budget
	case 2:
		l.Avoid = [][]string{nil, {"lead"}, {"cadmium"}, {"lead", "cobalt"}}[p.rand.IntN(4)]
	case 3:
		l.Own = [][]string{nil, {"titanium-white"}, {"titanium-white", "yellow-ochre"}}[p.rand.IntN(3)]
	case 4:
		l.Prefer = []solver.Preference{"", solver.Price, solver.FewestHazards, solver.Lightfast, solver.Accuracy}[p.rand.IntN(5)]
	}
	q := p.choose()
	q.kind = "change"
	return q
}

func (p *painter) check() question {
	q := p.choose()
	q.kind = "check"
	q.body = text(asks{p.scene, p.palette()})
	return q
}

func (p *painter) palette() []string { return p.palettes[p.rand.IntN(len(p.palettes))] }

// told reads a stream to its last event, which must be of the kind wanted.
func (p *painter) told(answer []byte, want string) error {
	last, data := "", ""
	lines := bufio.NewScanner(bytes.NewReader(answer))
	lines.Buffer(nil, len(answer)+1)
	for lines.Scan() {
		if kind, ok := strings.CutPrefix(lines.Text(), "event: "); ok {
			last = kind
		}
		if text, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
			data = text
		}
	}
	if last != want {
		return fmt.Errorf("the last event is %q: %.300s", last, data)
	}
	var got struct{ Tubes []struct{ ID string } }
	if err := json.Unmarshal([]byte(data), &got); err != nil {
		return err
	}
	if len(got.Tubes) > 1 && len(got.Tubes) <= mostCharted {
		var palette []string
		for _, t := range got.Tubes {
			palette = append(palette, t.ID)
		}
		p.palettes = append(p.palettes[max(0, len(p.palettes)-5):], palette)
	}
	return nil
}

func (p *painter) compare() question {
	body := map[string]any{"scene": p.scene, "palettes": []namedPalette{{"a", p.palette()}, {"b", p.palette()}}}
	return question{"compare", "POST", "/compare", text(body), []int{200}, isJSON}
}

// curve is about the tubes of a small box: about every tube it takes minutes.
func (p *painter) curve() question {
	limited := p.scene
	limited.Limits = scene.Limits{Only: []string{"titanium-white", "ivory-black", "yellow-ochre", "ultramarine-blue", "burnt-sienna", "raw-umber"}}
	return question{"curve", "POST", "/curve", text(map[string]any{"scene": limited}), []int{200}, isJSON}
}

func (p *painter) mix() question {
	return question{"mix", "POST", "/mix", text(tableRequest{Light: "D65", Colour: marshColours[p.rand.IntN(8)], Palette: p.palette()}), []int{200}, isJSON}
}

func (p *painter) pile() question {
	return question{"pile", "POST", "/pile", text(tableRequest{Light: "A", Pile: []ingredient{{Tube: "ultramarine-blue", Parts: float64(1 + p.rand.IntN(6))}, {Tube: "yellow-ochre", Parts: 1}}}), []int{200}, isJSON}
}

func (p *painter) correct() question {
	return question{"correct", "POST", "/got", text(tableRequest{Light: "D50", Pile: threeToOne, Colour: marshColours[p.rand.IntN(8)], Palette: p.palette()}), []int{200}, isJSON}
}

func (p *painter) chart() question {
	return question{"practice sheet", "GET", "/chart.pdf?paper=A4&palette=" + strings.Join(p.palette(), ","), "", []int{200}, begins("%PDF-")}
}

// keep keeps what was changed, open a scene of its own first.
func (p *painter) keep() question {
	if p.kept == "" {
		return p.open()
	}
	body := text(map[string]any{"base": p.base, "act": "changed", "scene": p.scene, "tab": fmt.Sprint(p.number)})
	return question{"keep", "PUT", "/scenes/" + p.kept, body, []int{200, 409}, p.revised}
}

func (p *painter) revised(answer []byte) error {
	var got struct{ Revision int }
	err := json.Unmarshal(answer, &got)
	p.base = got.Revision
	return err
}

// back takes an act back, or does it again.
func (p *painter) back() question {
	if p.kept == "" {
		return p.open()
	}
	return question{"take back", "POST", "/scenes/" + p.kept + []string{"/undo", "/redo"}[p.rand.IntN(2)], "{}", []int{200}, p.revised}
}

func (p *painter) file() question {
	if p.kept == "" {
		return p.open()
	}
	return question{"file", "GET", "/scenes/" + p.kept + "/scene.toml", "", []int{200}, begins("format = 1")}
}

func (p *painter) handOn() question {
	if p.kept == "" {
		return p.open()
	}
	return question{"hand on", "GET", "/scenes/" + p.kept + "/hand-on.zip", "", []int{200}, begins("PK")}
}

func (p *painter) list() question { return question{"list", "GET", "/scenes", "", []int{200}, isJSON} }

// open opens a scene, or forgets the one that is open.
func (p *painter) open() question {
	if p.kept != "" {
		q := question{"forget", "POST", "/scenes/" + p.kept + "/forget", "{}", []int{200}, nil}
		p.kept = ""
		return q
	}
	return question{"open", "POST", "/open?name=ebb.toml", "format = 1\n[[target]]\nname = 'mud'\ncolour = 'lab(38 4 9)'\n", []int{200}, func(answer []byte) error {
		var got struct{ ID string }
		err := json.Unmarshal(answer, &got)
		p.kept, p.base = got.ID, 1
		return err
	}}
}

func (p *painter) load() question {
	return question{"load", "GET", []string{"/", "/main.js", "/page.css", "/report.css", "/tubes"}[p.rand.IntN(5)], "", []int{200}, nil}
}

// wrong is what a slip of the pen or a stranger sends.
func (p *painter) wrong() question {
	q := []question{
		{path: "/answer", body: `{"scene": {"tolerance": 3, "light": "D65", "targets": [{"name": "a", "colour": "mud", "area": 1}]}}`, want: []int{400}},
		{path: "/mix", body: `{"light": "D65", "colour": "lab(1 2 3)", "palette": ["no-such-tube"]}`, want: []int{400}},
		{path: "/open", body: "format = 7", want: []int{400}},
		{path: "/photo?name=diary.txt", body: "Dear diary", want: []int{400, 415, 422}},
		{path: "/scenes", body: "{", want: []int{400}},
		{path: "/tubes", want: []int{405}},
	}[p.rand.IntN(6)]
	q.kind, q.method = "wrong", "POST"
	return q
}

func text(v any) string {
	data, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return string(data)
}

func isJSON(answer []byte) error {
	if !json.Valid(answer) {
		return fmt.Errorf("no JSON")
	}
	return nil
}

func begins(with string) func([]byte) error {
	return func(answer []byte) error {
		if !bytes.HasPrefix(answer, []byte(with)) {
			return fmt.Errorf("does not begin with %q", with)
		}
		return nil
	}
}
