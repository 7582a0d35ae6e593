package main

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"slices"
	"strings"

	"fewtubes/gamut/film"
)

const agreementPath = "cmd/refit/tables/agreement.csv"

const agreementHead = `# How far the sources of the catalogue agree. Each paint of the sets left out ("against") is foretold from the others
# ("from"), a chart patch by a correction learnt without it. laboratory: berns and okumura, whose mean is foretold; measured: all but
# the chart. L, a, b and tint_*: the paint left out, masstone and tint in nine
# of white, CIELAB, D65, 2 degrees. masstone and tint: CIEDE2000, the tint at the strength where it is nearest; strength: how
# many times as strong as the paint left out. *_before: the same of the catalogue before its units were mended, where its
# tube did not stand on the paint left out. *_now: of the tube as it stands, from everything. Sources: catalog/data/SOURCES.md.
# Written by the refit command: do not edit.
`

// leaving is what is left out together.
type leaving struct {
	name string
	sets []string
}

// leavings are each set, the two that are of one laboratory, and all but the chart.
var leavings = []leaving{
	{berns, []string{berns}}, {okumura, []string{okumura}}, {"laboratory", []string{berns, okumura}},
	{films, []string{films}}, {oils, []string{oils}}, {"measured", []string{berns, okumura, films, oils}},
}

// agreement is one line of the table.
type agreement struct {
	without  string
	step     derivation
	against  []source
	from     []source
	seen     swatch
	foretold likeness
	now      likeness
}

func (a *agreement) key() string {
	return a.without + "," + a.step.id + "," + listed(a.against)
}

func listed(s []source) string {
	var words []string
	for _, one := range s {
		words = append(words, one.String())
	}
	return strings.Join(words, "; ")
}

// agreements are the lines of the table.
func (d *deriver) agreements() ([]agreement, error) {
	var out []agreement
	for _, without := range leavings {
		for _, s := range d.order {
			lines, err := d.agreementsOf(s, without)
			if err != nil {
				return nil, fmt.Errorf("%s without %v: %w", s.id, without.name, err)
			}
			out = append(out, lines...)
		}
	}
	return out, nil
}

func (d *deriver) agreementsOf(s derivation, without leaving) (out []agreement, err error) {
	if s.method != "readings" || s.id == scaleTube {
		return nil, nil
	}
	white := d.done[scaleTube]
	foretold, err := d.withoutIts(s).foretold(s, without.sets)
	if errors.Is(err, errNoReading) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	for _, against := range s.leftOutOf(without.sets) {
		var paints []*film.Paint
		for _, r := range against {
			p, err := d.reading(r, s.group)
			if err != nil {
				return nil, err
			}
			paints = append(paints, p)
		}
		like := meanPaint(paints)
		seen := newSwatch(&like, white)
		out = append(out, agreement{
			without: without.name, step: s, against: against, from: d.foretoldFrom(s, without.sets), seen: seen,
			foretold: likenessTo(seen, &foretold, white), now: likenessTo(seen, d.done[s.id], white),
		})
	}
	return out, nil
}

// leftOutOf are the readings that leaving some sets out takes from a pigment: where
// one set is left out each by itself, where several are the mean the tube stands on.
func (s *derivation) leftOutOf(without []string) (out [][]source) {
	lost := func(all []source) (lost []source) {
		for _, r := range all {
			if slices.Contains(without, r.set) {
				lost = append(lost, r)
			}
		}
		return lost
	}
	if len(without) > 1 {
		if of := lost(s.readings); len(of) > 0 && len(of) == len(s.readings) {
			out = append(out, of)
		}
		return out
	}
	for _, r := range lost(slices.Concat(s.readings, s.otherwise)) {
		out = append(out, []source{r})
	}
	return out
}

// withoutIts is the deriver with the correction that a pigment's own pair took no
// part in.
func (d *deriver) withoutIts(s derivation) *deriver {
	i := slices.IndexFunc(d.learner.pairs, func(p pair) bool { return p.step.id == s.id })
	if i < 0 {
		return d
	}
	other := *d
	other.correct = d.learner.learn(i)
	return &other
}

//go:embed tables/before.csv
var beforeCSV []byte

// before are the columns of the table that no longer change, by agreement.key.
func before() (map[string][3]string, error) {
	lines, err := parseTable(bytes.NewReader(beforeCSV), "before.csv")
	if err != nil {
		return nil, err
	}
	out := map[string][3]string{}
	for _, l := range lines {
		f := l.fields
		out[f["left_out"]+","+f["tube"]+","+f["against"]] = [3]string{f["masstone"], f["tint"], f["strength"]}
	}
	return out, nil
}

func agreementCSV(lines []agreement) ([]byte, error) {
	old, err := before()
	if err != nil {
		return nil, err
	}
	records := [][]string{strings.Split("left_out,tube,against,from,L,a,b,tint_L,tint_a,tint_b,masstone_before,tint_before,strength_before,"+
		"masstone,tint,strength,masstone_now,tint_now,strength_now", ",")}
	for i := range lines {
		l := &lines[i]
		record := []string{l.without, l.step.id, listed(l.against), listed(l.from)}
		record = append(record, labFields(l.seen.masstone)...)
		record = append(record, labFields(l.seen.tint)...)
		was := old[l.key()]
		record = append(record, was[:]...)
		for _, k := range []likeness{l.foretold, l.now} {
			record = append(record, fmt.Sprintf("%.1f", k.masstone), fmt.Sprintf("%.1f", k.tint), fmt.Sprintf("%.2f", k.strength))
		}
		records = append(records, record)
	}
	return csvText(agreementHead, records)
}
