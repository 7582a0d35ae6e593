package catalog

import (
	"slices"
	"strings"
)

// Facts are what is usually reported of a pigment or a tube: hazard classes,
// sorted, the cautions that go with them, and the lightfastness class; empty where
// that is not known.
type Facts struct {
	Hazards       []string
	Cautions      []string
	Lightfastness string
}

// Facts are what is reported of the tube.
func (t *Tube) Facts() Facts { return Facts{t.Hazards, []string{t.Caution}, t.Lightfastness} }

// And is what is reported of two things in one tube: the hazards and cautions of
// both, and the worse lightfastness. A caution that names no hazard gives way to
// one that does.
func (f Facts) And(more Facts) Facts {
	out := Facts{Hazards: slices.Concat(f.Hazards, more.Hazards)}
	slices.Sort(out.Hazards)
	out.Hazards = slices.Compact(out.Hazards)
	for _, from := range []Facts{f, more} {
		if len(from.Hazards) == 0 && len(out.Hazards) > 0 {
			continue
		}
		for _, caution := range from.Cautions {
			if caution != "" && !slices.Contains(out.Cautions, caution) {
				out.Cautions = append(out.Cautions, caution)
			}
		}
	}
	out.Lightfastness = max(f.Lightfastness, more.Lightfastness) // the classes stand in order of their letters, not known first
	return out
}

// relatives are Colour Index names of pigments not in the catalogue that carry the
// metals of some that are; from memory. One that is not listed may be as harmful.
var relatives = map[string][]string{
	"PY37": {"PY35"}, "PO23": {"PO20", "PR106"}, "PR113": {"PR108", "PR106"}, // cadmium; with mercury
	"PY34": {"PW1"}, "PY46": {"PW1"}, "PO21": {"PW1"}, "PR104": {"PW1"}, "PR105": {"PW1"}, // lead
	"PB72": {"PB28"}, "PB73": {"PB28"}, "PB74": {"PB28"}, "PG19": {"PB28"}, "PV47": {"PV49"}, "PV48": {"PV49"}, // cobalt
	"PG26": {"PB36"}, "PY157": {"PY53"}, // cobalt and chromium; nickel
	"PBk26": {"PV16"}, "PBk33": {"PV16"}, // manganese
}

// Pigment is what the catalogue knows of a pigment by its Colour Index generic
// name: from the tubes that hold it alone, else from those that hold it at all.
// What stands behind a colon is let go where nothing else is known: PY35:1 is a
// cadmium yellow too. A pigment with the metals of others gets their hazards and
// cautions. ok is false where nothing is known.
func (c *Catalogue) Pigment(name string) (facts Facts, ok bool) {
	known, base := c.pigments(), pigmentBase(name)
	for _, found := range []struct {
		in   map[string]Facts
		name string
	}{{known.alone, name}, {known.among, name}, {known.base, base}} {
		if facts, ok = found.in[found.name]; ok {
			return facts, true
		}
	}
	for _, like := range relatives[base] {
		if of, known := c.Pigment(like); known {
			of.Lightfastness = ""
			facts, ok = facts.And(of), true
		}
	}
	return facts, ok
}

// pigments are what is known by Colour Index name: of tubes that hold a pigment
// alone, that hold it at all, and alone but for what stands behind a colon.
type pigments struct{ alone, among, base map[string]Facts }

func pigmentsOf(tubes []Tube) *pigments {
	p := &pigments{map[string]Facts{}, map[string]Facts{}, map[string]Facts{}}
	for i := range tubes {
		facts := tubes[i].Facts()
		for _, name := range tubes[i].Pigments {
			if len(tubes[i].Pigments) == 1 {
				p.alone[name] = p.alone[name].And(facts)
				p.base[pigmentBase(name)] = p.base[pigmentBase(name)].And(facts)
			}
			p.among[name] = p.among[name].And(facts)
		}
	}
	return p
}

// pigmentBase is a Colour Index name without what stands behind a colon.
func pigmentBase(name string) string {
	base, _, _ := strings.Cut(name, ":")
	return base
}
