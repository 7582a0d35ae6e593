package proofs

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// reader takes a statement in, line by line; stage is how far the order has come.
type reader struct {
	*Statement
	stage  int
	place  map[string]int // of the tubes
	digest string
	early  [][]string // lines that name tubes before these are known
	ended  bool
}

// stages are in order; the lines of one may be repeated where many says so.
var stages = map[string]struct {
	at   int
	many bool
	read func(r *reader, words []string) error
}{
	"statement": {0, false, (*reader).version},
	"title":     {1, false, (*reader).title},
	"light":     {2, false, (*reader).light},
	"surface":   {3, false, (*reader).surface},
	"minimised": {4, true, (*reader).minimised},
	"most":      {5, false, (*reader).most},
	"budget":    {6, false, (*reader).budget},
	"keep":      {7, true, (*reader).later},
	"group":     {stageGroup, true, (*reader).later},
	"tubes":     {9, false, (*reader).tubes},
	"tube":      {10, true, (*reader).tube},
	"colour":    {11, true, (*reader).colour},
	"need":      {12, true, (*reader).need},
	"palette":   {13, false, (*reader).palette},
	"mix":       {14, true, (*reader).mix},
	"end":       {15, false, (*reader).end},
}

const stageGroup = 8

// required are stages that every statement has.
var required = []int{0, 1, 2, 3, 9, 10, 11, 15}

// What a statement may hold, far more than any that is written.
const (
	mostTubes   = 5000
	mostColours = 1000
	mostNeeds   = 2000
)

// parse reads a statement without its paints, and the digest of the file of these.
// Errors are *Error.
func parse(text string) (*Statement, string, error) {
	r := &reader{Statement: &Statement{}, stage: -1, place: map[string]int{}}
	n := 0
	for line := range strings.Lines(text) {
		n++
		if err := r.line(strings.TrimSuffix(line, "\n")); err != nil {
			return nil, "", &Error{StatementFile, n, err}
		}
	}
	if !r.ended {
		return nil, "", &Error{StatementFile, n, errors.New("the end is missing")}
	}
	if err := r.sane(); err != nil {
		return nil, "", &Error{StatementFile, n, err}
	}
	return r.Statement, r.digest, nil
}

func (r *reader) line(text string) error {
	words := strings.Split(text, " ")
	stage, ok := stages[words[0]]
	if !ok {
		return fmt.Errorf("%q begins no line of a statement", plain.Short(words[0]))
	}
	if stage.at < r.stage || stage.at == r.stage && !stage.many || r.skips(stage.at) {
		return fmt.Errorf("%q stands in the wrong place", words[0])
	}
	r.stage = stage.at
	return stage.read(r, words[1:])
}

// skips reports whether a line is left out between the last stage and another.
func (r *reader) skips(to int) bool {
	return slices.ContainsFunc(required, func(at int) bool { return r.stage < at && at < to })
}

var errWords = errors.New("there are too few or too many words")

func (r *reader) version(words []string) error {
	if strings.Join(words, " ") != "1" {
		return errors.New("only statements of the kind 1 are known")
	}
	return nil
}

func (r *reader) title(words []string) error {
	r.Title = strings.Join(words, " ")
	return lineOf(r.Title)
}

// lineOf refuses what would steer a terminal.
func lineOf(text string) error {
	const longest = 1000
	if !plain.Line(text) || len(text) > longest {
		return errors.New("a name is one line of printable text")
	}
	return nil
}

func (r *reader) light(words []string) error {
	if len(words) != 1 {
		return errWords
	}
	light, err := colour.ParseLight(words[0])
	if err != nil || light.Name != words[0] {
		return fmt.Errorf("%q is no light", plain.Short(words[0]))
	}
	r.Light = light.Name
	return nil
}

func (r *reader) surface(words []string) error {
	v, err := numbers(words, 2)
	if err == nil {
		r.Surface = film.Surface{K1: v[0], K2: v[1]}
	}
	return err
}

func (r *reader) minimised(words []string) (err error) {
	if len(words) != 2 {
		return errWords
	}
	if _, ok := minimised[words[0]]; !ok {
		return fmt.Errorf("%q is nothing that can be least", plain.Short(words[0]))
	}
	if r.minimumOf(words[0]) >= 0 {
		return fmt.Errorf("%q is least twice", words[0])
	}
	m := Minimum{What: words[0]}
	m.Least, err = count(words[1], 0)
	r.Minima = append(r.Minima, m)
	return err
}

// minimumOf is the place of a minimum by its name, -1 where there is none.
func (s *Statement) minimumOf(what string) int {
	return slices.IndexFunc(s.Minima, func(m Minimum) bool { return m.What == what })
}

func (r *reader) most(words []string) (err error) {
	if len(words) != 1 {
		return errWords
	}
	r.Limits.Most, err = count(words[0], 1)
	return err
}

func (r *reader) budget(words []string) (err error) {
	if len(words) != 1 {
		return errWords
	}
	r.Limits.Budgeted = true
	r.Limits.Budget, err = count(words[0], 0)
	return err
}

// later keeps a line until the tubes are known.
func (r *reader) later(words []string) error {
	if len(words) == 0 || len(r.early) == mostNeeds {
		return errWords
	}
	key := "keep"
	if r.stage == stageGroup {
		key = "group"
	} else if len(words) != 1 {
		return errWords
	}
	r.early = append(r.early, append([]string{key}, words...))
	return nil
}

func (r *reader) tubes(words []string) error {
	if len(words) != 1 || len(words[0]) != 64 {
		return errors.New("a digest is wanted")
	}
	r.digest = words[0]
	return nil
}

func (r *reader) tube(words []string) error {
	if len(words) != 3 || len(r.Tubes) == mostTubes {
		return errWords
	}
	buy, err := count(words[1], 0)
	if err == nil && buy > 1 {
		err = fmt.Errorf("a tube is bought once, or not")
	}
	if err != nil {
		return err
	}
	price, err := count(words[2], 0)
	if err != nil {
		return err
	}
	if _, twice := r.place[words[0]]; twice || words[0] == "" || !plain.Line(words[0]) {
		return fmt.Errorf("%q is named twice, or no name", plain.Short(words[0]))
	}
	r.place[words[0]] = len(r.Tubes)
	r.Tubes = append(r.Tubes, Tube{ID: words[0], Buy: buy, Price: price})
	return nil
}

func (r *reader) colour(words []string) error {
	if len(words) < 6 || len(r.Colours) == mostColours {
		return errWords
	}
	state := slices.Index(stateNames[:], words[0])
	if state < 0 {
		return fmt.Errorf("%q is nothing that is said of a colour", plain.Short(words[0]))
	}
	v, err := numbers(words[1:5], 4)
	if err != nil {
		return err
	}
	c := Colour{Name: strings.Join(words[5:], " "), Lab: colour.Lab{L: v[0], A: v[1], B: v[2]}, Tolerance: v[3], State: State(state)}
	if slices.ContainsFunc(r.Colours, func(o Colour) bool { return o.Name == c.Name }) {
		return fmt.Errorf("%q is named twice", plain.Short(c.Name))
	}
	r.Colours = append(r.Colours, c)
	return lineOf(c.Name)
}

func (r *reader) need(words []string) error {
	if len(words) < 4 || len(r.Needs) == mostNeeds {
		return errWords
	}
	why := r.minimumOf(words[0])
	if words = words[1:]; why < 0 {
		return errors.New("a need is there for a minimum")
	}
	at, err := r.colourAt(words[0])
	if err != nil {
		return err
	}
	n := Need{For: why, Colour: at, Proven: words[1] == "proven"}
	if !n.Proven && words[1] != "search" {
		return fmt.Errorf("%q is nothing that is said of a need", plain.Short(words[1]))
	}
	n.OneOf, err = r.named(words[2:])
	r.Needs = append(r.Needs, n)
	return err
}

func (r *reader) palette(words []string) (err error) {
	r.Palette, err = r.named(words)
	return err
}

func (r *reader) mix(words []string) error {
	if len(words) < 3 || len(words)%2 != 1 {
		return errWords
	}
	at, err := r.colourAt(words[0])
	if err != nil {
		return err
	}
	c := &r.Colours[at]
	if c.State != Reached || c.Mix != nil {
		return fmt.Errorf("colour %d has a mix too many", at+1)
	}
	for i := 1; i < len(words); i += 2 {
		tubes, err := r.named(words[i : i+1])
		if err != nil {
			return err
		}
		v, err := numbers(words[i+1:i+2], 1)
		if err != nil {
			return err
		}
		c.Mix = append(c.Mix, Share{tubes[0], v[0]})
	}
	return nil
}

func (r *reader) end(words []string) error {
	r.ended = true
	if len(words) > 0 {
		return errWords
	}
	return nil
}

func (r *reader) colourAt(word string) (int, error) {
	n, err := count(word, 1)
	if err == nil && n > len(r.Colours) {
		err = fmt.Errorf("there is no colour %d", n)
	}
	return n - 1, err
}

// named are tubes by their ids, in the order of the statement.
func (r *reader) named(ids []string) ([]int, error) {
	out := make([]int, len(ids))
	for k, id := range ids {
		i, ok := r.place[id]
		if !ok {
			return nil, fmt.Errorf("%q is none of the tubes", plain.Short(id))
		}
		if k > 0 && i <= out[k-1] {
			return nil, errors.New("tubes are named out of order")
		}
		out[k] = i
	}
	return out, nil
}

// sane looks at what only the whole can tell.
func (r *reader) sane() error {
	for _, words := range r.early {
		tubes, err := r.named(words[1:])
		switch {
		case err != nil:
			return err
		case words[0] == "keep":
			r.Limits.Keep = append(r.Limits.Keep, tubes[0])
		default:
			r.Limits.Groups = append(r.Limits.Groups, tubes)
		}
	}
	if len(r.Minima) == 0 && len(r.Palette) > 0 {
		return errors.New("a palette belongs to a minimum")
	}
	return nil
}

// count is a whole number, small enough that sums of them stay so.
func count(word string, least int) (int, error) {
	n, err := strconv.ParseInt(word, 10, 64)
	if err != nil || n < int64(least) || n > 1e9 || strconv.FormatInt(n, 10) != word {
		return 0, fmt.Errorf("%q is not a count", plain.Short(word))
	}
	return int(n), nil
}

func numbers(words []string, wanted int) ([]float64, error) {
	if len(words) != wanted {
		return nil, errWords
	}
	out := make([]float64, wanted)
	for i, w := range words {
		x, err := strconv.ParseFloat(w, 64)
		if err != nil || math.IsNaN(x-x) {
			return nil, fmt.Errorf("%q is not a number", plain.Short(w))
		}
		out[i] = x
	}
	return out, nil
}

// parsePaints fills in the paints of the tubes.
func (s *Statement) parsePaints(text string) error {
	n := 0
	for line := range strings.Lines(text) {
		words := strings.Split(strings.TrimSuffix(line, "\n"), " ")
		n++
		if n > len(s.Tubes) || len(words) < 2 || words[0] != "tube" || words[1] != s.Tubes[n-1].ID {
			return &Error{tubesFile, n, errors.New("it is not the tube that the statement names here")}
		}
		v, err := numbers(words[2:], 2*colour.Bands)
		if err != nil {
			return &Error{tubesFile, n, err}
		}
		copy(s.Tubes[n-1].K[:], v[:colour.Bands])
		copy(s.Tubes[n-1].S[:], v[colour.Bands:])
	}
	if n < len(s.Tubes) {
		return &Error{tubesFile, n, fmt.Errorf("%d tubes are missing", len(s.Tubes)-n)}
	}
	return nil
}

// Error says in which file of a folder something is wrong, and in which line (0: as a
// whole).
type Error struct {
	File string
	Line int
	Err  error
}

func (e *Error) Error() string {
	if e.Line == 0 {
		return fmt.Sprintf("%s: %v", e.File, e.Err)
	}
	return fmt.Sprintf("%s:%d: %v", e.File, e.Line, e.Err)
}
func (e *Error) Unwrap() error { return e.Err }
