package colour

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"sync"
)

//go:embed data/weights_10nm.csv
var weightsCSV string

// Light is a CIE standard illuminant seen by the CIE 1931 2 degree observer,
// held as tristimulus weights per band (ASTM E308 style, Y of the perfect
// diffuser 100).
type Light struct {
	Name    string
	Weights [3][Bands]float64 // x, y, z
	White   XYZ               // the perfect diffuser
}

var lights = sync.OnceValue(readLights)

// D65 is average daylight, the default light.
func D65() *Light { return lights()["D65"] }

// D50 is the warmer daylight of print viewing booths.
func D50() *Light { return lights()["D50"] }

// A is a tungsten lamp.
func A() *Light { return lights()["A"] }

// ParseLight finds a light by name: D65, D50 or A, in either case.
func ParseLight(name string) (*Light, error) {
	if l, ok := lights()[strings.ToUpper(strings.TrimSpace(name))]; ok {
		return l, nil
	}
	return nil, fmt.Errorf("unknown light %q; use D65, D50 or A", name)
}

// XYZ integrates a reflectance under the light; Y is 0..100 for 0..1.
func (l *Light) XYZ(s *Spectrum) XYZ {
	var x, y, z float64
	wx, wy, wz := &l.Weights[0], &l.Weights[1], &l.Weights[2]
	for i, r := range s {
		x += float64(wx[i] * r)
		y += float64(wy[i] * r)
		z += float64(wz[i] * r)
	}
	return XYZ{x, y, z}
}

// Lab is the CIELAB colour of a reflectance under the light, against the
// light's own white.
func (l *Light) Lab(s *Spectrum) Lab { return l.XYZ(s).Lab(l.White) }

func readLights() map[string]*Light {
	r := csv.NewReader(strings.NewReader(weightsCSV))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		panic("colour: embedded weights: " + err.Error())
	}
	found := map[string]*Light{}
	for _, row := range rows[1:] {
		l := found[row[0]]
		if l == nil {
			l = &Light{Name: row[0]}
			found[row[0]] = l
		}
		nm, err := strconv.Atoi(row[1])
		if err != nil {
			panic("colour: embedded weights: " + err.Error())
		}
		for k := range l.Weights {
			w, err := strconv.ParseFloat(row[2+k], 64)
			if err != nil {
				panic("colour: embedded weights: " + err.Error())
			}
			l.Weights[k][(nm-StartNM)/StepNM] = w
		}
	}
	for _, l := range found {
		one := Flat(1)
		l.White = l.XYZ(&one)
	}
	return found
}
