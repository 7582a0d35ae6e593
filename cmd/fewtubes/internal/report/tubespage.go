package report

type cataloguePage struct {
	Kind, Heading, MunsellNote string
	Tubes                      []cataloguePageTube
}

type cataloguePageTube struct {
	TubeFull
	Masstone, Tint string // #rrggbb
	Lines          []Fact
}

// HTML is the catalogue as one printable page.
func (c *Catalogue) HTML() ([]byte, error) {
	p := cataloguePage{Kind: "Straight from the tube, and one part of it in nine of white", Heading: capital(counted(len(c.Tubes), "tube")), MunsellNote: c.MunsellNote}
	if len(c.Tubes) == 1 {
		p.Heading = c.Tubes[0].Name
	}
	for _, t := range c.Tubes {
		p.Tubes = append(p.Tubes, cataloguePageTube{t, hex(t.Lab.Colour()), hex(t.TintLab.Colour()), t.Facts(c.Light)})
	}
	return render("tubes.html", p)
}
