package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

const mixturesPath = "cmd/refit/tables/mixtures.csv"

const mixturesHead = `# Two-paint mixtures whose tubes stand on different sets, foretold from the catalogue. Weighed oils (M. Geldof et al., Heritage Science
# 6:17, 2018, CC0) as opaque films, the way the catalogue shows them; tints of acrylic films (Levinson, Berdahl, Akbari, 2005) over white, by
# their dry thickness in micrometres. mix: volumes. L, a, b: measured, CIELAB, D65, 2 degrees; left: foretold; before: CIEDE2000
# of the catalogue before its units were mended. Written by the refit command: do not edit.
`

// oilTubes are the tubes that stand for the components of the weighed oils.
var oilTubes = map[string]string{
	"ZincWhite": "zinc-white", "LeadWhite": "lead-white", "BoneBlack": "ivory-black", "ViridianGreen": "viridian", "UltramarineBlue": "ultramarine-blue",
	"CobaltBlue": "cobalt-blue", "PrussianBlue": "prussian-blue", "Vermillion": "vermilion",
}

// filmTubes are the tubes that stand on one of the paint films alone.
var filmTubes = map[string]string{"R06": "quinacridone-burnt-orange", "R07": "quinacridone-coral", "R09": "naphthol-red-light", "Y01": "mars-yellow"}

// mixture is one line of the table.
type mixture struct {
	sample             string
	tubes              []string
	volumes            []float64
	micrometres        float64 // 0: opaque
	measured, foretold colour.Lab
}

// mixtures foretells every two-paint mixture of tubes that share no set.
func (d *deriver) mixtures() []mixture {
	var out []mixture
	for _, s := range d.samples {
		m := mixture{sample: s.name, measured: labOf(s.seen[paintOverWhite])}
		for i, v := range s.volumes {
			if v > 0 {
				m.tubes, m.volumes = append(m.tubes, oilTubes[oilComponents[i]]), append(m.volumes, v)
			}
		}
		if len(m.tubes) == 2 && !slices.Contains(m.tubes, "") && !d.shareSet(m.tubes) {
			out = append(out, m)
		}
	}
	for _, r := range d.films {
		for i, code := range filmCodes {
			if filmTubes[code] == "" || r.Amounts[i] == 0 || r.Amounts[0] == 0 || !strings.HasSuffix(r.Name, "over_white") {
				continue
			}
			out = append(out, mixture{
				sample: strings.TrimSuffix(r.Name, " R_over_white"), measured: labOf(film.Level(r.Seen, &r.Have)), micrometres: r.Thickness,
				tubes: []string{filmTubes[code], scaleTube}, volumes: []float64{r.Amounts[i], r.Amounts[0]},
			})
		}
	}
	for i := range out {
		out[i].foretell(d)
	}
	return out
}

func (d *deriver) shareSet(tubes []string) bool {
	sets := map[string]bool{}
	for i, id := range tubes {
		for _, r := range d.steps[id].readings {
			if i > 0 && sets[r.set] {
				return true
			}
			sets[r.set] = true
		}
	}
	return false
}

func (m *mixture) foretell(d *deriver) {
	var paints []film.Paint
	var shares []float64
	sum := 0.0
	for _, v := range m.volumes {
		sum += v
	}
	for i, id := range m.tubes {
		paints, shares = append(paints, *d.done[id]), append(shares, m.volumes[i]/sum)
	}
	var mix film.Paint
	film.Mix(&mix, paints, shares)
	if m.micrometres == 0 {
		m.foretold = labOf(mix.Masstone(d.scale.Surface))
		return
	}
	ground := colour.Flat(filmsOverWhite)
	m.foretold = labOf(d.scale.Film(&mix, m.micrometres, &ground))
}

func (m *mixture) mix() string {
	var words []string
	for i, id := range m.tubes {
		words = append(words, strconv.FormatFloat(m.volumes[i], 'g', 4, 64)+" "+id)
	}
	return strings.Join(words, " + ")
}

func mixturesCSV(lines []mixture) ([]byte, error) {
	old, err := before()
	if err != nil {
		return nil, err
	}
	records := [][]string{strings.Split("sample,mix,micrometres,L,a,b,left_L,left_a,left_b,before,now", ",")}
	for i := range lines {
		m := &lines[i]
		record := []string{m.sample, m.mix(), fmt.Sprintf("%g", m.micrometres)}
		record = append(append(record, labFields(m.measured)...), labFields(m.foretold)...)
		records = append(records, append(record, old["mixture,"+m.sample+","][0], fmt.Sprintf("%.1f", colour.DE2000(m.measured, m.foretold))))
	}
	return csvText(mixturesHead, records)
}
