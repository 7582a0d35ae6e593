package page

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	paint "image/draw"
	"image/png"
	"io"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/bounded"
	"fewtubes/gamut/colour"

	"pgregory.net/rapid"
)

// threeToOne is a dull green.
var threeToOne = []ingredient{{Tube: "ultramarine-blue", Parts: 3}, {Tube: "yellow-ochre", Parts: 1}}

const (
	demoScene = "../../../../testdata/salt-marsh.toml"
	kitOfSix  = "titanium-white,hansa-yellow-medium,yellow-ochre,ultramarine-blue,burnt-sienna,quinacridone-magenta"
	dullGreen = "lab(44 -11 21)"
)

// desk asks one thing of the page and of the commands, and holds the answers together.
type desk struct {
	t       *testing.T
	server  *httptest.Server
	command string
	scene   map[string]any // the demo, as the page asks about it, its photographs held
}

func newDesk(t *testing.T) *desk {
	t.Helper()
	d := &desk{t: t, server: newServer(t), command: build(t)}
	sc, err := scene.Read(demoScene)
	if err != nil {
		t.Fatal(err)
	}
	asked := newState(&sc)
	for i, p := range asked.Photos {
		data, err := os.ReadFile(filepath.Join(filepath.Dir(demoScene), p.File))
		if err != nil {
			t.Fatal(err)
		}
		status, _, reply := send(t, d.server, "POST", "/photo?name=picture.jpg", data, nil)
		var got struct{ ID string }
		if err := json.Unmarshal(reply, &got); err != nil || status != 200 {
			t.Fatalf("%d %s", status, reply)
		}
		asked.Photos[i].ID = got.ID
	}
	d.scene = decoded(t, []byte(text(asked)))
	return d
}

func decoded(t *testing.T, data []byte) (out map[string]any) {
	t.Helper()
	if err := json.Unmarshal(data, &out); err != nil {
		t.Fatalf("%v: %.300s", err, data)
	}
	return out
}

// ask is the page's answer.
func (d *desk) ask(path string, body map[string]any) []byte {
	d.t.Helper()
	data, err := json.Marshal(body)
	if err != nil {
		d.t.Fatal(err)
	}
	status, _, reply := send(d.t, d.server, "POST", path, data, nil)
	if status != 200 {
		d.t.Fatalf("%s: %d %s", path, status, reply)
	}
	return reply
}

func (d *desk) page(path string, body map[string]any) map[string]any {
	d.t.Helper()
	return decoded(d.t, d.ask(path, body))
}

// about asks about the demo and a palette.
func (d *desk) about(path, palette string, more map[string]any) map[string]any {
	d.t.Helper()
	return decoded(d.t, d.ask(path, d.question(palette, more)))
}

func (d *desk) question(palette string, more map[string]any) map[string]any {
	body := map[string]any{"scene": d.scene, "palette": []string{}}
	if palette != "" {
		body["palette"] = strings.Split(palette, ",")
	}
	for k, v := range more {
		body[k] = v
	}
	return body
}

// run is what the command prints.
func (d *desk) run(args ...string) []byte {
	d.t.Helper()
	out, err := exec.Command(d.command, args...).Output()
	if err != nil {
		d.t.Fatalf("fewtubes %q: %v", args, err)
	}
	return out
}

func (d *desk) prints(args ...string) map[string]any {
	d.t.Helper()
	return decoded(d.t, d.run(append(args, "--json")...))
}

// same holds a figure of the page against the command's.
func (d *desk) same(what string, here, there any) {
	d.t.Helper()
	if a, b := text(here), text(there); a != b {
		d.t.Errorf("%s: %s on the page, %s by the command", what, a, b)
	}
}

func each(list any) (out []map[string]any) {
	for _, v := range list.([]any) {
		out = append(out, v.(map[string]any))
	}
	return out
}

// The figures of the mixing table are those of mix, pile, correct and mix --string.
func TestTableEqualsCommands(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	at := func(more map[string]any) map[string]any {
		body := map[string]any{"palette": strings.Split(kitOfSix, ","), "light": "D65", "tolerance": 3, "colour": dullGreen, "pile": threeToOne}
		for k, v := range more {
			body[k] = v
		}
		return body
	}

	there := each(d.prints("mix", dullGreen, "--palette", kitOfSix)["recipes"])
	ways := each(d.page("/mix", at(nil))["ways"])
	if len(ways) != len(there) || len(ways) == 0 {
		t.Fatalf("%d ways and %d recipes", len(ways), len(there))
	}
	for i, way := range ways {
		de := there[i]["de"]
		if let, ok := there[i]["let_down"].(map[string]any); ok {
			de = let["de"]
		}
		d.same(fmt.Sprintf("way %d", i+1), way["de"], de)
	}

	pile := d.page("/pile", at(nil))
	looked := d.prints("pile", "3:ultramarine-blue", "1:yellow-ochre")
	d.same("value of the pile", pile["value"], fmt.Sprintf("%.1f", looked["value"]))
	d.same("order of mixing", pile["order"], looked["order"])
	for i, tint := range each(looked["ladder"]) {
		d.same("tint", each(pile["tints"])[i]["value"], fmt.Sprintf("%.1f", tint["value"]))
	}

	seen := "lab(40 -6 4)"
	got := each(d.page("/got", at(map[string]any{"seen": seen}))["ways"])
	mended := each(d.prints("correct", "--have", "3:ultramarine-blue,1:yellow-ochre", "--want", dullGreen, "--seen", seen, "--palette", kitOfSix)["ways"])
	if len(got) != len(mended) || len(got) == 0 {
		t.Fatalf("%d ways to mend and %d", len(got), len(mended))
	}
	for i, way := range got {
		d.same("what is left", way["de"], mended[i]["de"])
		for _, part := range each(way["add"]) {
			d.same(part["tube"].(string), part["parts"], mended[i]["add"].(map[string]any)[part["tube"].(string)])
		}
	}

	rows := each(d.page("/string", at(map[string]any{"steps": 5}))["steps"])
	steps := each(d.prints("mix", dullGreen, "--palette", kitOfSix, "--string", "5")["steps"])
	for _, step := range steps {
		row := rows[slices.IndexFunc(rows, func(r map[string]any) bool { return r["no"] == step["no"] })]
		d.same("step", []any{row["de"], row["reached"], row["value"]}, []any{step["de"], step["reached"], fmt.Sprintf("%.1f", step["value"])})
	}
}

// A paint let down is what it was let down from: the film model is linear in volumes.
func TestPileOfWhatIsLetDown(t *testing.T) {
	server := newServer(t)
	look := func(pile ...ingredient) string {
		_, _, reply := send(t, server, "POST", "/pile", []byte(text(map[string]any{"light": "D65", "pile": pile})), nil)
		return decoded(t, reply)["colour"].(string)
	}
	plain := look(ingredient{Tube: "titanium-white", Parts: 3 + 10}, ingredient{Tube: "phthalo-blue-red-shade", Parts: 1})
	down := look(ingredient{Tube: "titanium-white", Parts: 3}, ingredient{Tube: "phthalo-blue-red-shade", In: "titanium-white", Ratio: 10, Times: 1, Parts: 11})
	if plain != down {
		t.Errorf("%s in parts, %s let down", plain, down)
	}
	twice := look(ingredient{Tube: "phthalo-blue-red-shade", In: "titanium-white", Ratio: 3, Times: 2, Parts: 16})
	if once := look(ingredient{Tube: "titanium-white", Parts: 15}, ingredient{Tube: "phthalo-blue-red-shade", Parts: 1}); twice != once {
		t.Errorf("%s let down twice, %s in parts", twice, once)
	}
}

// What an eye says of a pile lies as far from the colour wanted as its words say, and the
// words for the difference are its own; warm and cool are told of by the hue for all that
// is not too dull to have one.
func TestEyeIsHeard(t *testing.T) {
	said := map[string]colour.Fault{"too light": colour.TooLight, "too dark": colour.TooDark, "too strong": colour.TooStrong, "too dull": colour.TooDull}
	rapid.Check(t, func(t *rapid.T) {
		want := colour.LCh{L: rapid.Float64Range(25, 80).Draw(t, "L"), C: rapid.Float64Range(20, 45).Draw(t, "C"), H: rapid.Float64Range(0, 360).Draw(t, "h")}.Lab()
		fault := rapid.SampledFrom([]string{"too light", "too dark", "too warm", "too cool", "too strong", "too dull"}).Draw(t, "fault")
		by := rapid.SampledFrom([]string{"a little", "clearly", "by far"}).Draw(t, "by")
		seen, err := (&eyed{fault, by}).looks(want)
		if err != nil {
			t.Fatal(err)
		}
		if de := colour.DE2000(seen, want); math.Abs(de-eyedBy[by]) > 0.01 {
			t.Fatalf("%s %s of %v: %v is %v away", by, fault, want, seen, de)
		}
		if f, ok := said[fault]; ok && colour.Direction(seen, want).Faults[0].Fault != f {
			t.Fatalf("%s of %v: %v", fault, want, colour.Direction(seen, want))
		}
		warmer := func(c colour.Lab) float64 { return c.A*0.5 + c.B*math.Sqrt(3)/2 } // towards 60 degrees
		if fault == "too warm" && warmer(seen) <= warmer(want) || fault == "too cool" && warmer(seen) >= warmer(want) {
			t.Fatalf("%s of %v: %v", fault, want, seen)
		}
	})
}

// Pack, the plans in few values, air and fit say what their commands say, and the sheets
// are theirs to the byte.
func TestSheetsEqualCommands(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	d.same("pack", d.about("/pack", kitOfSix, map[string]any{"size": []float64{30, 40}, "coats": 2}),
		d.prints("pack", demoScene, "--palette", kitOfSix, "--size", "30x40cm", "--coats", "2"))

	wide := d.scene["photos"].([]any)[0].(map[string]any)
	plans := each(d.about("/values", "", map[string]any{"levels": 3, "photo": wide["id"]})["plans"])
	for i, plan := range each(d.prints("values", filepath.Join(filepath.Dir(demoScene), wide["file"].(string)), "--levels", "3")["plans"]) {
		d.same("plan", plans[i]["name"], plan["name"])
		levels := each(plan["levels"])
		slices.Reverse(levels)
		for k, level := range levels {
			here := each(plans[i]["levels"])[k]
			d.same("level", []any{here["value"], here["share"]}, []any{fmt.Sprintf("%.1f", level["value"].(float64)/10), fmt.Sprintf("%.0f", 100*level["share"].(float64))})
		}
	}

	words := func(text []byte) string { return strings.Join(strings.Fields(string(text)), " ") }
	for path, args := range map[string][]string{
		"/recession": {"recession", demoScene}, "/air": {"air", demoScene}, "/fit": {"fit", demoScene, "--palette", kitOfSix},
	} {
		there, here := words(d.run(args...)), d.about(path, kitOfSix, nil)
		for _, line := range here["lines"].([]any) {
			if !strings.Contains(there, words([]byte(line.(string)))) {
				t.Errorf("%s: %q is not said by the command", path, line)
			}
		}
		for _, m := range each(here["moved"]) {
			if said := m["name"].(string) + ": " + m["words"].(string); path != "/recession" && m["words"] != "" && !strings.Contains(there, said) {
				t.Errorf("%s: %q is not said by the command", path, said)
			}
		}
	}

	dir := t.TempDir()
	for path, args := range map[string][]string{
		"/lid":     {"check", demoScene, "--palette", kitOfSix, "--lid"},
		"/handout": {"handout", demoScene, "--palette", kitOfSix, "-o"},
		"/learn":   {"chart", "--learn", "--palette", kitOfSix, "-o"},
	} {
		file := filepath.Join(dir, path+".pdf")
		d.run(append(args, file)...)
		there, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if here := d.ask(path, d.question(kitOfSix, map[string]any{"paper": "A4", "levels": 3, "seenBy": "chip"})); !bytes.Equal(here, there) {
			t.Errorf("%s: %d bytes on the page, %d by the command", path, len(here), len(there))
		}
	}
}

// Why fewer will not do, how sure, the curve and the folder of proofs are the commands'.
func TestReasonsEqualCommands(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	there := d.prints("choose", demoScene, "--doubt")
	why := d.about("/why", "", nil)
	needs := there["disjoint_needs"].([]any)
	if counted, ok := there["count"].(map[string]any); ok && len(needs) == 0 {
		needs = counted["needs"].([]any)
	}
	if len(each(why["needs"])) != len(needs) || len(needs) == 0 {
		t.Fatalf("%d needs, not %d", len(each(why["needs"])), len(needs))
	}
	for i, need := range each(why["needs"]) {
		other := needs[i].(map[string]any)
		var ids []any
		for _, tube := range each(need["oneOf"]) {
			ids = append(ids, tube["id"])
		}
		d.same("need", []any{need["target"], ids}, []any{other["target"], other["one_of"]})
	}
	d.same("palettes", len(each(why["palettes"])), len(each(there["palettes"])))

	sure := d.about("/sure", "", nil)
	d.same("doubt", sure["doubt"], there["doubt"])
	best := each(each(there["palettes"])[0]["targets"])
	for _, l := range each(sure["landings"]) {
		i := slices.IndexFunc(best, func(t map[string]any) bool { return t["name"] == l["name"] })
		delete(l, "name")
		d.same("landing", l, best[i]["landing"])
	}

	curve, points := d.about("/curve", "", nil), d.prints("curve", demoScene)
	for i, p := range each(points["points"]) {
		here := each(curve["points"])[i]
		d.same("point", []any{here["n"], here["tolerance"], here["ids"], here["price"], here["knee"]}, []any{p["tubes"], p["tolerance"], p["palette"], p["price"], p["knee"]})
	}

	d.same("what to swatch first", sure["first"], there["swatch_first"])
}

// The folder that is sent is one that the command verifies.
func TestProofIsVerified(t *testing.T) {
	bounded.Long(t)
	t.Parallel()
	d := newDesk(t)
	var packed []byte
	for line := range strings.Lines(d.proof()) {
		if data, ok := strings.CutPrefix(line, `data: {"data":`); ok {
			if err := json.Unmarshal([]byte(data[:strings.Index(data, ",")]), &packed); err != nil {
				t.Fatal(err)
			}
		}
	}
	folder := unpack(t, packed)
	if out := d.run("proof", filepath.Join(folder, "proof"), "--scene", demoScene); !strings.Contains(string(out), "It is about the scene of") {
		t.Errorf("%s", out)
	}
}

// proof is the stream of the page's proof, which takes longer than any other answer.
func (d *desk) proof() string {
	d.t.Helper()
	r, err := http.NewRequestWithContext(d.t.Context(), http.MethodPost, d.server.URL+"/proof", strings.NewReader(text(d.question("", nil))))
	if err != nil {
		d.t.Fatal(err)
	}
	r.Header.Set("Origin", d.server.URL)
	reply, err := http.DefaultClient.Do(r)
	if err != nil {
		d.t.Fatal(err)
	}
	defer reply.Body.Close()
	body, err := io.ReadAll(reply.Body)
	if err != nil {
		d.t.Fatal(err)
	}
	return string(body)
}

// unpack writes the files of a zip.
func unpack(t *testing.T, data []byte) string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := os.CopyFS(dir, z); err != nil {
		t.Fatal(err)
	}
	return dir
}

// A pile that is remembered stands in the box as measure --pile writes it, says what that
// says, and is taken back.
func TestTaughtAsByCommand(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	box := filepath.Join(t.TempDir(), "box.toml")
	there := d.run("measure", "--pile", "3:ultramarine-blue,1:yellow-ochre", "--seen", "5G 4/2", "--box", box)
	here := d.page("/teach", map[string]any{"pile": threeToOne, "seen": "5G 4/2", "by": "chip"})
	said := strings.Join(strings.Fields(string(there)), " ")
	if !strings.HasPrefix(said, here["said"].(string)) {
		t.Errorf("the page says %q, the command %q", here["said"], said)
	}
	written, err := os.ReadFile(box)
	if err != nil {
		t.Fatal(err)
	}
	swatches := each(here["swatches"])
	if len(swatches) != 1 || !strings.Contains(string(written), `recipe = "`+swatches[0]["recipe"].(string)+`"`) {
		t.Errorf("%v beside\n%s", swatches, written)
	}
	if status, _, reply := send(t, d.server, "POST", "/teach", []byte(text(map[string]any{"pile": threeToOne, "seen": "5G 4/2", "by": "chip"})), nil); status != 400 || !strings.Contains(string(reply), "stands in the record already") {
		t.Errorf("taught twice: %d %s", status, reply)
	}
	if back := d.page("/teach", map[string]any{"forget": 1}); len(each(back["swatches"])) != 0 {
		t.Errorf("taken back: %v", back)
	}
}

// A photograph of a pile beside a grey card is read within the noise of a camera: two flat
// patches of known colours, in a light of another colour.
func TestPileInAPhotograph(t *testing.T) {
	server := newServer(t)
	pile := colour.Lab{L: 44, A: -11, B: 21}
	status, _, reply := send(t, server, "POST", "/photo?name=pile.png", photographed(t, greyCard, pile), nil)
	if status != 200 {
		t.Fatalf("%d %s", status, reply)
	}
	id := decoded(t, reply)["id"]
	ask := map[string]any{"light": "D65", "colour": dullGreen, "palette": []string{"titanium-white"}, "pile": threeToOne, "photo": map[string]any{"id": id, "card": []float64{0.25, 0.5}, "pile": []float64{0.75, 0.5}}}
	status, _, reply = send(t, server, "POST", "/got", []byte(text(ask)), nil)
	if status != 200 {
		t.Fatalf("%d %s", status, reply)
	}
	seen, err := colour.Parse(decoded(t, reply)["seen"].(map[string]any)["colour"].(string))
	if err != nil {
		t.Fatal(err)
	}
	if de := colour.DE2000(seen, pile); de > 1.5 {
		t.Errorf("%v is read as %v, %v away", pile, seen, de)
	}
}

// The cards for the phone are pictures that any gallery opens: the lid card and one for
// each colour, in the order of the scene.
func TestPocketCards(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	packed := d.ask("/pocket", d.question(kitOfSix, nil))
	z, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	if err != nil {
		t.Fatal(err)
	}
	colours := 0
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := png.Decode(r); err != nil {
			t.Errorf("%s: %v", f.Name, err)
		}
		if !strings.Contains(f.Name, "lid card") {
			name := each(d.scene["targets"])[colours]["name"].(string)
			if colours++; !strings.HasSuffix(strings.TrimSuffix(f.Name, ".png"), strings.ReplaceAll(name, ",", "")) {
				t.Errorf("%s stands for %s", f.Name, name)
			}
		}
	}
	if colours != len(d.scene["targets"].([]any)) || colours == len(z.File) {
		t.Errorf("%d cards of colours in %d pictures", colours, len(z.File))
	}
	if again := d.ask("/pocket", d.question(kitOfSix, nil)); !bytes.Equal(again, packed) {
		t.Error("the same cards are other bytes")
	}
	if dir := os.Getenv("FEWTUBES_SHOTS"); dir != "" {
		_ = os.WriteFile(filepath.Join(dir, "pocket.zip"), packed, 0o644)
	}
}

// photographed is a picture of two patches on a mount, in a warm and dim light.
func photographed(t *testing.T, left, right colour.Lab) []byte {
	t.Helper()
	const w, h = 900, 600
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	ink := func(c colour.Lab) color.RGBA {
		lin := c.SRGB().Linear()
		lin.R, lin.G, lin.B = float64(0.95*lin.R), float64(0.85*lin.G), float64(0.7*lin.B)
		rgb := lin.SRGB().RGB8()
		return color.RGBA{rgb[0], rgb[1], rgb[2], 255}
	}
	paint.Draw(img, img.Bounds(), image.NewUniform(ink(colour.Lab{L: 80})), image.Point{}, paint.Src)
	paint.Draw(img, image.Rect(w/8, h/4, 3*w/8, 3*h/4), image.NewUniform(ink(left)), image.Point{}, paint.Src)
	paint.Draw(img, image.Rect(5*w/8, h/4, 7*w/8, 3*h/4), image.NewUniform(ink(right)), image.Point{}, paint.Src)
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
