package sheet

// item is a line of the handout's two columns: a plane's heading or one of its
// mixes.
type item struct {
	heading string
	mix     *Mix
	extra   float64 // mm a mix is taller than it must be
}

func (it item) height() float64 {
	if it.mix == nil {
		return planeRow
	}
	height := mixRow + it.extra
	if it.mix.Words != "" {
		height += lineRow
	}
	if it.mix.LetDown {
		height += lineRow
	}
	return height
}

// columns splits planes and mixes in two of about the same height. A plane that
// is cut gets its heading again, and none stands alone at the foot of the first.
func (h *Handout) columns(extra float64) (left, right []item) {
	var all []item
	for i := range h.Planes {
		all = append(all, item{heading: h.Planes[i].title()})
		for j := range h.Planes[i].Mixes {
			all = append(all, item{mix: &h.Planes[i].Mixes[j], extra: extra})
		}
	}
	half := columnHeight(all) / 2
	split, sum := 0, 0.0
	for split < len(all) && sum < half {
		sum += all[split].height()
		split++
	}
	if split > 0 && split < len(all) && all[split-1].mix == nil {
		split--
	}
	left, right = all[:split], all[split:]
	if len(right) > 0 && right[0].mix != nil {
		right = append([]item{{heading: lastHeading(left) + ", continued"}}, right...)
	}
	return left, right
}

func (p Plane) title() string {
	if p.Name == "" {
		return "anywhere"
	}
	return p.Name
}

func lastHeading(items []item) (heading string) {
	for _, it := range items {
		if it.mix == nil {
			heading = it.heading
		}
	}
	return heading
}

func columnHeight(items []item) (sum float64) {
	for _, it := range items {
		sum += it.height()
	}
	return sum
}

// rowsHeight is the height of the taller column at its tightest.
func (h *Handout) rowsHeight() float64 {
	left, right := h.columns(0)
	return max(columnHeight(left), columnHeight(right))
}
